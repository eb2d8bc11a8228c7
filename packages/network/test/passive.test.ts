import type { Part } from '@curvewright/board';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { logFrequencies } from '../../curves/src/index.ts';
import { capacitor, circuit, inductor, resistor } from './circuits.ts';
import { add, decibels, imaginary, inverse, modulus, multiply, scale, type Complex } from './complex.ts';
import { gainAt, gains } from './solved.ts';

const seed = 20261125;
const band = logFrequencies(2, 100e3, 10);

/** A value between two decades, evenly spread in its logarithm. */
const decades = (from: number, to: number): fc.Arbitrary<number> =>
  fc.double({ min: from, max: to, noNaN: true }).map((exponent) => 10 ** exponent);
const ohms = decades(1, 6);
const farads = decades(-11, -4);
const henries = decades(-4, 0);

const admittance = {
  resistor: (value: number): Complex => [1 / value, 0],
  capacitor: (value: number, omega: number): Complex => imaginary(omega * value),
  inductor: (value: number, omega: number): Complex => imaginary(-1 / (omega * value)),
};

/** Largest difference in dB between a circuit and a closed form over the band. */
function worstDb(parts: Part[], closedForm: (omega: number) => Complex): number {
  const computed = gains(circuit([], parts), band);
  return Math.max(
    ...computed.map((gain, n) => Math.abs(decibels(gain) - decibels(closedForm(2 * Math.PI * band[n]!)))),
  );
}

// A few dozen eps of relative error are 1e-13 dB; the bound leaves room for a condition number of a thousand or so.
const tolerance = 1e-9;

describe('sections against their closed forms, 2 Hz to 100 kHz', () => {
  it('RC low-pass and high-pass', () => {
    fc.assert(
      fc.property(ohms, farads, (r, c) => {
        const low = [resistor('R1', r, 'in', 'out'), capacitor('C1', c, 'out', 'gnd')];
        expect(worstDb(low, (omega) => inverse([1, omega * r * c]))).toBeLessThan(tolerance);
        const high = [capacitor('C1', c, 'in', 'out'), resistor('R1', r, 'out', 'gnd')];
        expect(worstDb(high, (omega) => inverse([1, -1 / (omega * r * c)]))).toBeLessThan(tolerance);
      }),
      { seed, numRuns: 100 },
    );
  });

  it('RL low-pass and high-pass, the coil with its own resistance', () => {
    fc.assert(
      fc.property(ohms, henries, decades(-1, 3), (r, l, own) => {
        const coil = (omega: number): Complex => [own, omega * l];
        const divider = (over: Complex, under: Complex): Complex => multiply(under, inverse(add(over, under)));
        const low = [inductor('L1', l, own, 'in', 'out'), resistor('R1', r, 'out', 'gnd')];
        expect(worstDb(low, (omega) => divider(coil(omega), [r, 0]))).toBeLessThan(tolerance);
        const high = [resistor('R1', r, 'in', 'out'), inductor('L1', l, own, 'out', 'gnd')];
        expect(worstDb(high, (omega) => divider([r, 0], coil(omega)))).toBeLessThan(tolerance);
      }),
      { seed, numRuns: 100 },
    );
  });

  it('RLC low-pass and high-pass up to a Q of 100', () => {
    fc.assert(
      fc.property(henries, decades(1, 5), decades(-0.5, 2), (l, hz, q) => {
        const omega0 = 2 * Math.PI * hz;
        const c = 1 / (omega0 ** 2 * l);
        const r = (omega0 * l) / q;
        const low = [resistor('R1', r, 'in', 'a'), inductor('L1', l, 0, 'a', 'out'), capacitor('C1', c, 'out', 'gnd')];
        const denominator = (omega: number): Complex => [1 - omega ** 2 * l * c, omega * r * c];
        expect(worstDb(low, (omega) => inverse(denominator(omega)))).toBeLessThan(tolerance);
        const high = [resistor('R1', r, 'in', 'a'), capacitor('C1', c, 'a', 'out'), inductor('L1', l, 0, 'out', 'gnd')];
        expect(worstDb(high, (omega) => scale(-(omega ** 2) * l * c, inverse(denominator(omega))))).toBeLessThan(
          tolerance,
        );
      }),
      { seed, numRuns: 100 },
    );
  });

  it('ladders of up to five sections, as a continued fraction', () => {
    const arm = fc.oneof(
      ohms.map((value) => ({ kind: 'resistor' as const, value })),
      farads.map((value) => ({ kind: 'capacitor' as const, value })),
    );
    const rung = fc.tuple(arm, ohms, farads);
    fc.assert(
      fc.property(fc.array(rung, { minLength: 2, maxLength: 5 }), (rungs) => {
        const node = (i: number): string => (i === 0 ? 'in' : i === rungs.length ? 'out' : `n${i}`);
        const parts = rungs.flatMap(([series, r, c], i) => [
          series.kind === 'resistor'
            ? resistor(`R${i}1`, series.value, node(i), node(i + 1))
            : capacitor(`C${i}1`, series.value, node(i), node(i + 1)),
          resistor(`R${i}2`, r, node(i + 1), 'gnd'),
          capacitor(`C${i}2`, c, node(i + 1), 'gnd'),
        ]);
        const closedForm = (omega: number): Complex => {
          // From the far end: 1 V at the output, then the voltage and current that each section needs before it.
          let volts: Complex = [1, 0];
          let amps: Complex = [0, 0];
          for (const [series, r, c] of rungs.toReversed()) {
            amps = add(amps, multiply(volts, add([1 / r, 0], admittance.capacitor(c, omega))));
            volts = add(volts, multiply(amps, inverse(admittance[series.kind](series.value, omega))));
          }
          return inverse(volts);
        };
        expect(worstDb(parts, closedForm)).toBeLessThan(tolerance);
      }),
      { seed, numRuns: 100 },
    );
  });
});

describe('a real capacitor', () => {
  it('has the admittance 1/(ESR + 1/(ωC(j + tan δ))) + 1/leakage', () => {
    const silentOr = (figure: fc.Arbitrary<number>): fc.Arbitrary<number | undefined> =>
      fc.option(figure, { nil: undefined });
    fc.assert(
      fc.property(
        ohms,
        farads,
        silentOr(decades(-3, 3)),
        silentOr(decades(4, 9)),
        silentOr(decades(-4, 0)),
        (r, c, esr, leakage, loss) => {
          const figures = Object.fromEntries(
            Object.entries({ esr, leakage, loss }).filter(([, value]) => value !== undefined),
          );
          const parts = [
            resistor('R1', r, 'in', 'out'),
            capacitor('C1', c, 'out', 'gnd', figures),
            resistor('R2', 1e6, 'out', 'gnd'),
          ];
          const closedForm = (omega: number): Complex => {
            const dielectric = inverse(scale(omega * c, [loss ?? 0, 1]));
            const own = add(inverse(add([esr ?? 0, 0], dielectric)), [leakage === undefined ? 0 : 1 / leakage, 0]);
            return inverse(add([1 + r / 1e6, 0], scale(r, own)));
          };
          expect(worstDb(parts, closedForm)).toBeLessThan(tolerance);
        },
      ),
      { seed, numRuns: 200 },
    );
  });
});

describe('a coupling capacitor on a passive high-pass', () => {
  /** Hz where the gain stands 1/√2 below the gain at the top of the band. */
  function corner(c: number): number {
    const stage = circuit([], [capacitor('C1', c, 'in', 'out'), resistor('R1', 47e3, 'out', 'gnd')]);
    let [low, high] = [1e-3, 1e3];
    while (high / low > 1 + 1e-12) {
      const middle = Math.sqrt(low * high);
      if (modulus(gainAt(stage, middle)) < Math.SQRT1_2) low = middle;
      else high = middle;
    }
    return low;
  }

  it('taken from 0.47 to 1 µF moves its own corner by 2.13 (common practice, no source)', () => {
    const ratio = corner(0.47e-6) / corner(1e-6);
    expect(ratio.toFixed(2)).toBe('2.13');
    // The bisection stops at 1e-12 of the frequency.
    expect(Math.abs(ratio * 0.47 - 1)).toBeLessThan(1e-11);
  });

  it('never loses bass by being larger, whatever RC network follows (common practice, no source)', () => {
    const section = fc.tuple(ohms, ohms, farads);
    fc.assert(
      fc.property(farads, decades(0, 2), ohms, fc.array(section, { maxLength: 3 }), (c, larger, own, sections) => {
        const build = (value: number): Part[] => [
          resistor('R1', own, 'in', 'a'),
          capacitor('C1', value, 'a', sections.length === 0 ? 'out' : 'n0'),
          resistor('R2', 47e3, sections.length === 0 ? 'out' : 'n0', 'gnd'),
          ...sections.flatMap(([series, shunt, cap], i) => {
            const after = i === sections.length - 1 ? 'out' : `n${i + 1}`;
            return [
              resistor(`R${i}1`, series, `n${i}`, after),
              resistor(`R${i}2`, shunt, after, 'gnd'),
              capacitor(`C${i}2`, cap, after, 'gnd'),
            ];
          }),
        ];
        const before = gains(circuit([], build(c)), band);
        const after = gains(circuit([], build(c * larger)), band);
        after.forEach((gain, n) => {
          // Rounding may take 1e-12 of the gain where both capacitors are short circuits.
          expect(modulus(gain)).toBeGreaterThanOrEqual(modulus(before[n]!) * (1 - 1e-12));
        });
      }),
      { seed, numRuns: 200 },
    );
  });
});
