import fc from 'fast-check';
import { expect, test } from 'vitest';
import { boltzmann, datasheetKelvin, jfet } from '../src/index.ts';
import { between, jfetN, jfetTypes, run } from './invented-types.ts';
import { relative, solvedAt, storedAt } from './solved-at.ts';

const rounding = 1e-12;

/** The 10 fA of the gate junctions count against milliamperes. */
const gateShare = 1e-10;

test('IDSS at vgs = 0, a quarter of it at half the pinch-off voltage, nothing beyond', () => {
  const device = jfet(jfetN, datasheetKelvin);
  const drain = (vgs: number): number => solvedAt(device, [vgs, vgs - 10]).currents[0]!;
  expect(relative(drain(0), 6e-3)).toBeLessThan(gateShare);
  expect(relative(drain(-0.5), 1.5e-3)).toBeLessThan(gateShare);
  expect(drain(-1)).toBeLessThan(1e-13);
});

test('gm at vgs = 0 is 2·IDSS/VP, and the output conductance yos', () => {
  const { slopes } = solvedAt(jfet({ ...jfetN, yos: 20e-6 }, datasheetKelvin), [0, -10]);
  // The channel shortening multiplies the whole current: 1 + 10 V·yos/IDSS, and adds its own slope at constant vgd.
  const lengthening = 1 + (10 * 20e-6) / 6e-3;
  expect(relative(slopes[0]! + slopes[1]!, 12e-3 * lengthening)).toBeLessThan(rounding);
  expect(relative(-slopes[1]!, 20e-6)).toBeLessThan(rounding);
});

test('around vds = 0 it is the resistor VP²/(2·IDSS·(vgs + VP))', () => {
  const { slopes } = solvedAt(jfet(jfetN, datasheetKelvin), [-0.25, -0.25]);
  expect(relative(-slopes[1]!, 2 * 6e-3 * 0.75)).toBeLessThan(gateShare);
});

test('drain and source exchanged give the same part', () => {
  const volts = between(-30, 0.8);
  fc.assert(
    fc.property(jfetTypes, volts, volts, (type, vgs, vgd) => {
      const sign = type.kind === 'jfet-n' ? 1 : -1;
      const device = jfet(type, datasheetKelvin);
      const ahead = solvedAt(device, [sign * vgs, sign * vgd]).currents;
      const turned = solvedAt(device, [sign * vgd, sign * vgs]).currents;
      expect(Math.abs(turned[0]! - ahead[2]!)).toBe(0);
      expect(Math.abs(turned[1]! - ahead[1]!)).toBe(0);
      expect(Math.abs(turned[2]! - ahead[0]!)).toBe(0);
    }),
    run,
  );
});

test('a p-channel part mirrors an n-channel part exactly', () => {
  const volts = between(-30, 0.8);
  fc.assert(
    fc.property(jfetTypes, volts, volts, (type, vgs, vgd) => {
      const n = solvedAt(jfet({ ...type, kind: 'jfet-n' }, 300), [vgs, vgd]);
      const p = solvedAt(jfet({ ...type, kind: 'jfet-p' }, 300), [-vgs, -vgd]);
      n.currents.forEach((amps, lead) => expect(amps + p.currents[lead]!).toBe(0));
      expect(p.slopes).toEqual(n.slopes);
    }),
    run,
  );
});

test('a gate driven forward conducts', () => {
  expect(solvedAt(jfet(jfetN, datasheetKelvin), [0.7, -5]).currents[1]!).toBeGreaterThan(1e-3);
});

test('Crss lies between gate and drain, the rest of Ciss between gate and source', () => {
  expect([...storedAt(jfet(jfetN, datasheetKelvin), [-0.5, -8]).slopes]).toEqual([
    0, -4e-12, 11e-12, 4e-12, -11e-12, 0,
  ]);
});

test('channel noise is 4kT·⅔·gm in saturation and 4kT·g at vds = 0 (van der Ziel; from memory); a stated en replaces it', () => {
  const device = jfet(jfetN, 300);
  const saturated = device.noise(Float64Array.of(-0.5, -8))[0]!;
  expect(relative(saturated.density, 4 * boltzmann * 300 * (2 / 3) * 6e-3)).toBeLessThan(rounding);
  const ohmic = device.noise(Float64Array.of(-0.5, -0.5))[0]!;
  expect(relative(ohmic.density, 4 * boltzmann * 300 * 6e-3)).toBeLessThan(rounding);
  const stated = jfet({ ...jfetN, en: 2e-9, enCorner: 50 }, 300).noise(Float64Array.of(-0.5, -8))[0]!;
  expect(stated).toEqual({ name: 'channel', quantity: 'voltage', between: [1, 2], density: 2e-9 ** 2, corner: 50 });
});
