import fc from 'fast-check';
import { expect, test } from 'vitest';
import { datasheetKelvin, deviceOf, diode } from '../src/index.ts';
import { anyType, run } from './invented-types.ts';
import { solvedAt } from './solved-at.ts';

const volts = fc.oneof(fc.double({ min: -80, max: 80, noNaN: true }), fc.double({ min: -1, max: 1, noNaN: true }));

test('a small step passes unchanged, so that a solution is never held off', () => {
  fc.assert(
    fc.property(
      anyType,
      fc.tuple(volts, volts),
      fc.double({ min: -5e-3, max: 5e-3, noNaN: true }),
      (type, at, small) => {
        const device = deviceOf(type, datasheetKelvin);
        const previous = Float64Array.from(at.slice(0, device.controls.length));
        const wished = previous.map((v) => v + small);
        const proposed = wished.slice();
        expect(device.limit(proposed, previous)).toBe(false);
        expect(proposed).toEqual(wished);
      },
    ),
    run,
  );
});

test('a held step ends between where it began and where it wished to go, never where it began', () => {
  fc.assert(
    fc.property(anyType, fc.tuple(volts, volts), fc.tuple(volts, volts), (type, from, to) => {
      const device = deviceOf(type, datasheetKelvin);
      const previous = Float64Array.from(from.slice(0, device.controls.length));
      const wished = Float64Array.from(to.slice(0, device.controls.length));
      const proposed = wished.slice();
      const changed = device.limit(proposed, previous);
      expect(changed).toBe(proposed.some((v, k) => v !== wished[k]));
      proposed.forEach((v, k) => {
        const [low, high] = [Math.min(previous[k]!, wished[k]!), Math.max(previous[k]!, wished[k]!)];
        expect(v).toBeGreaterThanOrEqual(low);
        expect(v).toBeLessThanOrEqual(high);
        if (wished[k] !== previous[k]) expect(v).not.toBe(previous[k]);
      });
    }),
    run,
  );
});

test('Newton from 0 V finds the bias of a diode behind a resistor from any supply', () => {
  const device = diode({ kind: 'diode', VF: [{ value: 0.6, at: 1e-3 }] }, datasheetKelvin);
  fc.assert(
    fc.property(fc.double({ min: -400, max: 400, noNaN: true }), (supply) => {
      const at = new Float64Array(1);
      const residual = (): number => (supply - at[0]!) / 1e3 - solvedAt(device, [...at]).currents[0]!;
      // A held step moves by some kT/q·ln(400 V/(kT/q)) at most, and the exponential's tail takes about one kT/q a step: 40 are ample.
      for (let k = 0; k < 40; k += 1) {
        const proposed = at.map((v) => v + residual() / (1e-3 + solvedAt(device, [...at]).slopes[0]!));
        device.limit(proposed, at);
        at.set(proposed);
      }
      // Amperes: the rounding of volts on a slope of up to 16 S, and that of the exponent.
      expect(Math.abs(residual())).toBeLessThanOrEqual(1e-13 + 1e-13 * Math.abs(supply / 1e3));
    }),
    run,
  );
});
