import fc from 'fast-check';
import { expect, test } from 'vitest';
import { datasheetKelvin, deviceOf, diode, thermalVoltage } from '../src/index.ts';
import { anyType, between, jfetN, run, tube } from './invented-types.ts';
import { solvedAt } from './solved-at.ts';

const volts = fc.oneof(between(-80, 80), between(-1, 1));

/** V; less than twice the slope voltage of the steepest part here, a zener of 2 Ω at 1 mA. */
const small = between(-3e-3, 3e-3);

test('a small step passes unchanged, so that a solution is never held off', () => {
  fc.assert(
    fc.property(anyType, fc.tuple(volts, volts), small, (type, at, move) => {
      const device = deviceOf(type, datasheetKelvin);
      const previous = Float64Array.from(at.slice(0, device.controls.length));
      const wished = previous.map((v) => v + move);
      const proposed = wished.slice();
      expect(device.limit(proposed, previous)).toBe(false);
      expect(proposed).toEqual(wished);
    }),
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

test('a step up an exponential becomes logarithmic, from the bend of the curve where it began below', () => {
  const scale = thermalVoltage(datasheetKelvin);
  const device = diode({ kind: 'diode', VF: [{ value: 0.6, at: 1e-3 }] }, datasheetKelvin);
  const held = (from: number, to: number): number => {
    const proposed = Float64Array.of(to);
    device.limit(proposed, Float64Array.of(from));
    return proposed[0]!;
  };
  // One rounding of the sum.
  expect(Math.abs(held(0.75, 10.75) - (0.75 + scale * Math.log1p(10 / scale)))).toBeLessThan(1e-15);
  // The curve bends most at s·ln(s/(√2·Is)), which from the 1 mA point is 0.6 V + s·ln(s/√2 ÷ 1 mA), but for Is beside 1 mA.
  const bend = 0.6 + scale * Math.log(scale / Math.SQRT2 / 1e-3);
  expect(Math.abs(held(-5, 5) - (bend + scale * Math.log1p((5 - bend) / scale)))).toBeLessThan(1e-9);
  expect(held(0.8, -30)).toBe(-30);
});

test('a breakdown is held like a forward junction', () => {
  const device = deviceOf({ kind: 'zener', VZ: { value: 12, at: 5e-3 }, rz: 10 }, datasheetKelvin);
  const proposed = Float64Array.of(-30);
  expect(device.limit(proposed, Float64Array.of(-12.1))).toBe(true);
  // rz times the current: an exponential of 50 mV.
  expect(Math.abs(proposed[0]! + 12.1 + 0.05 * Math.log1p(17.9 / 0.05))).toBeLessThan(1e-9);
});

test('a FET enters conduction by half its pinch-off voltage, a triode moves by its own bias', () => {
  const fet = Float64Array.of(10, -20);
  deviceOf(jfetN, datasheetKelvin).limit(fet, Float64Array.of(-6, -8));
  expect([...fet]).toEqual([-0.5, -20]);
  const valve = Float64Array.of(40, 400);
  deviceOf(tube, datasheetKelvin).limit(valve, Float64Array.of(-1, 200));
  expect([...valve]).toEqual([1.5, 262.5]);
  const cutOff = Float64Array.of(-40, 200);
  expect(deviceOf(tube, datasheetKelvin).limit(cutOff, Float64Array.of(-1, 200))).toBe(false);
});

test('Newton from 0 V finds the bias of a diode behind a resistor from any supply', () => {
  const device = diode({ kind: 'diode', VF: [{ value: 0.6, at: 1e-3 }] }, datasheetKelvin);
  fc.assert(
    fc.property(between(-400, 400), (supply) => {
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
