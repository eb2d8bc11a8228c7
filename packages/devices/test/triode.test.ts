import fc from 'fast-check';
import { expect, test } from 'vitest';
import { boltzmann, datasheetKelvin, triode } from '../src/index.ts';
import { between, run, triodeTypes, tube } from './invented-types.ts';
import { relative, solvedAt, storedAt } from './solved-at.ts';

/** Square roots, one division: a few eps; the grid voltage of the stated point is a difference of like numbers. */
const rounding = 1e-12;

test('current, rp and µ hold at the stated point', () => {
  fc.assert(
    fc.property(triodeTypes, (type) => {
      const device = triode(type);
      const { currents, slopes } = solvedAt(device, device.start);
      // Only a stated bias in the negative grid region is a datasheet's.
      fc.pre(device.start[0]! < 0);
      expect(relative(currents[0]!, type.at.Ia)).toBeLessThan(rounding);
      expect(relative(1 / slopes[1]!, type.rp)).toBeLessThan(rounding);
      expect(relative(slopes[0]! / slopes[1]!, type.mu)).toBeLessThan(rounding);
      expect(currents[1]).toBe(0);
    }),
    run,
  );
});

test('µ 100, rp 80 kΩ into 220 kΩ ∥ 470 kΩ amplifies 65.2 times (seen: angelfire.com, funwithtubes, 4.1)', () => {
  const device = triode(tube);
  const { slopes } = solvedAt(device, device.start);
  const gain = slopes[0]! / (slopes[1]! + 1 / 220e3 + 1 / 470e3);
  // Half a unit of the last printed digit.
  expect(Math.abs(gain - 65.2)).toBeLessThan(0.05);
});

test('the current follows the three-halves power: half the drive voltage, 2^−1.5 of the current', () => {
  const device = triode(tube);
  const drive = device.start[0]! + 250 / 100;
  const { currents } = solvedAt(device, [device.start[0]! - drive / 2, 250]);
  expect(relative(currents[0]!, 1e-3 * 0.5 ** 1.5)).toBeLessThan(rounding);
});

test('no anode current is negative, and none flows in cut-off or into an anode below 0 V', () => {
  const volts = (most: number): fc.Arbitrary<number> => between(-most, most);
  fc.assert(
    fc.property(triodeTypes, volts(20), volts(400), (type, vg, va) => {
      const { currents } = solvedAt(triode(type), [vg, va]);
      expect(currents[0]).toBeGreaterThanOrEqual(0);
      if (va <= 0 || vg + va / type.mu <= 0) expect(currents[0]).toBe(0);
    }),
    run,
  );
});

test('a grid driven positive takes current, a negative one none', () => {
  const device = triode(tube);
  expect(solvedAt(device, [1, 100]).currents[1]!).toBeGreaterThan(1e-4);
  expect(solvedAt(device, [-0.1, 100]).currents[1]).toBe(0);
});

test('each capacitance lies between its own two leads', () => {
  const device = triode({ ...tube, Cag: 1e-12, Cgk: 2e-12, Cak: 4e-12 });
  // Grid up by 1 V: Cag and Cgk charge; anode up by 1 V: Cag and Cak.
  expect([...storedAt(device, [1, 0]).charges]).toEqual([-1e-12, 3e-12, -2e-12]);
  expect([...storedAt(device, [0, 1]).charges]).toEqual([5e-12, -1e-12, -4e-12]);
});

test('its noise is that of 2.5/gm in series with the grid (Terman, Reich; from memory), or a stated en', () => {
  const device = triode(tube);
  const at = Float64Array.from(device.start);
  const gm = tube.mu / tube.rp;
  const [anode] = device.noise(at);
  expect(relative(anode!.density / gm ** 2, (4 * boltzmann * datasheetKelvin * 2.5) / gm)).toBeLessThan(rounding);
  const [stated] = triode({ ...tube, en: 3e-9 }).noise(at);
  expect(stated).toEqual({ name: 'anode', quantity: 'voltage', between: [1, 2], density: 3e-9 ** 2, corner: 0 });
});
