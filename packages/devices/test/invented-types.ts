import type { BipolarType, DiodeType, JfetType, TriodeType, ZenerType } from '@curvewright/board';
import fc from 'fast-check';
import { transitTime, type DeviceType } from '../src/index.ts';

/** Invented part types with figures in the ranges of small-signal datasheets, each figure silent in some of them. */

export const run = { seed: 20261125, numRuns: 500 };

export const npn: BipolarType = {
  kind: 'npn',
  hFE: [{ value: 320, at: 0.1e-3 }],
  VBE: { value: 0.6, at: 1e-3 },
  earlyVoltage: 90,
  fT: { value: 150e6, at: 5e-3 },
  Cob: 3e-12,
  Cib: 6e-12,
  noiseCorner: 300,
  VEBO: 5,
};

export const jfetN: JfetType = { kind: 'jfet-n', IDSS: 6e-3, pinchOff: 1, Crss: 4e-12, Ciss: 15e-12 };

export const tube: TriodeType = { kind: 'triode', mu: 100, rp: 80e3, at: { Va: 250, Ia: 1e-3 }, Cag: 1.7e-12 };

/** Evenly spread over the range; fc.double spreads over the representable numbers, nearly all of which are next to zero. */
export const between = (low: number, high: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 2 ** 30 }).map((n) => low + ((high - low) * n) / 2 ** 30);
const decade = (low: number, high: number): fc.Arbitrary<number> =>
  between(Math.log10(low), Math.log10(high)).map((x) => 10 ** x);

const capacitance = fc.oneof(fc.constant(0), decade(1e-13, 30e-12));

/** Leaves each figure out now and then, as a datasheet does. */
function withSilence<R extends object, O extends object>(
  stated: { [K in keyof R]: fc.Arbitrary<R[K]> },
  silent: { [K in keyof O]: fc.Arbitrary<O[K]> },
): fc.Arbitrary<R & Partial<O>> {
  return fc
    .tuple(fc.record(stated), fc.record(silent, { requiredKeys: [] }))
    .map(([a, b]) => ({ ...a, ...b }) as R & Partial<O>);
}

const hFE = fc.oneof(
  between(20, 900).map((value) => [{ value, at: 0 }]),
  fc.tuple(between(50, 400), between(0.8, 1.8), between(0.5, 1.2)).map(([low, up, down]) => [
    { value: low, at: 1e-5 },
    { value: low * up, at: 1e-3 },
    { value: low * up * down, at: 5e-2 },
  ]),
);

const transitionFrequency: fc.Arbitrary<{ value: number; at?: number }> = fc.oneof(
  fc.record({ value: decade(2e7, 3e8) }),
  fc.record({ value: decade(2e7, 3e8), at: between(5e-3, 2e-2) }),
);

export const bipolarTypes: fc.Arbitrary<BipolarType> = withSilence(
  {
    kind: fc.constantFrom('npn' as const, 'pnp' as const),
    hFE,
    VBE: fc.record({ value: between(0.5, 0.75), at: decade(1e-4, 1e-2) }),
  },
  {
    earlyVoltage: between(20, 200),
    fT: transitionFrequency,
    Cob: capacitance,
    Cib: capacitance,
    noiseCorner: decade(10, 1e4),
    ICBO: decade(1e-9, 1e-4),
    VEBO: between(3, 12),
  },
).filter((type) => (transitTime(type) ?? 0) >= 0);

export const diodeTypes: fc.Arbitrary<DiodeType> = fc.oneof(
  withSilence(
    {
      kind: fc.constant('diode' as const),
      VF: fc.tuple(fc.record({ value: between(0.2, 1.4), at: decade(1e-4, 1e-1) })),
    },
    { ideality: between(1, 2.2) },
  ),
  fc.tuple(between(0.2, 1.4), decade(1e-4, 1e-2), between(0.03, 0.15)).map(([value, at, rise]): DiodeType => ({
    kind: 'diode',
    VF: [
      { value, at },
      { value: value + rise, at: at * 10 },
    ],
  })),
);

export const zenerTypes: fc.Arbitrary<ZenerType> = withSilence(
  { kind: fc.constant('zener' as const), VZ: fc.record({ value: between(2.4, 75), at: decade(1e-3, 2e-2) }) },
  { rz: between(2, 100) },
);

export const jfetTypes: fc.Arbitrary<JfetType> = withSilence(
  { kind: fc.constantFrom('jfet-n' as const, 'jfet-p' as const), IDSS: decade(3e-4, 3e-2), pinchOff: between(0.3, 8) },
  {
    yos: decade(1e-6, 1e-4),
    Crss: decade(1e-13, 5e-12),
    Ciss: between(5e-12, 40e-12),
    en: decade(1e-9, 1e-8),
    enCorner: decade(10, 1e3),
  },
);

export const triodeTypes: fc.Arbitrary<TriodeType> = withSilence(
  {
    kind: fc.constant('triode' as const),
    mu: between(10, 110),
    rp: decade(3e3, 1e5),
    at: fc.record({ Va: between(80, 300), Ia: decade(3e-4, 2e-2) }),
  },
  { Cag: capacitance, Cgk: capacitance, Cak: capacitance, en: decade(1e-9, 1e-8) },
);

export const anyType: fc.Arbitrary<DeviceType> = fc.oneof(bipolarTypes, diodeTypes, zenerTypes, jfetTypes, triodeTypes);
