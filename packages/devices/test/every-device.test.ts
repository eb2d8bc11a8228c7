import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { deviceOf, type Device } from '../src/index.ts';
import { anyType, run } from './invented-types.ts';
import { solvedAt, storedAt } from './solved-at.ts';

/** V; a power of two, small against kT/q so that the slope hardly moves across it. */
const step = 2 ** -22;

/** Roundings in a current: each exponent carries up to some 50 eps, and a handful of sums follow. */
const roundings = 256 * Number.EPSILON;

const kelvin = fc.double({ min: 273, max: 330, noNaN: true });

/** Controls about the device's start point, where junctions turn on, and farther out. */
function controlsOf(device: Device): fc.Arbitrary<number[]> {
  const near = { min: -0.5, max: 0.25, noNaN: true };
  const wide = { min: -60, max: 0.25, noNaN: true };
  const toward = device.leads[0] === 'anode' ? 1 : Math.sign(device.start[0]!);
  return fc
    .array(fc.oneof(fc.double(near), fc.double(wide)), {
      minLength: device.start.length,
      maxLength: device.start.length,
    })
    .map((offsets) => offsets.map((offset, k) => device.start[k]! + toward * offset));
}

const placed = fc.tuple(anyType, kelvin).chain(([type, t]) => {
  const device = deviceOf(type, t);
  return fc.record({ type: fc.constant(type), device: fc.constant(device), controls: controlsOf(device) });
});

type Sample = (controls: readonly number[]) => { values: Float64Array; slopes: Float64Array };

/**
 * A central difference is the mean of the slope over its step, so it lies between the lowest and the highest slope there: no kink has to be
 * left out. Beyond that band: 1e-6 for a turning point of the slope inside the step, and the roundings of the difference.
 */
function expectSlopes(sample: Sample, controls: readonly number[]): void {
  const here = sample(controls);
  const largest = Math.max(...here.values.map(Math.abs));
  controls.forEach((volts, k) => {
    const low = sample(controls.with(k, volts - step));
    const high = sample(controls.with(k, volts + step));
    here.values.forEach((_, row) => {
      const index = row * controls.length + k;
      const difference = (high.values[row]! - low.values[row]!) / (volts + step - (volts - step));
      const slopes = [low, here, high].map(({ slopes: all }) => all[index]!);
      const steepest = Math.max(...slopes.map(Math.abs));
      const slack = 1e-6 * steepest + (roundings * (largest + steepest * (Math.abs(volts) + 10))) / step;
      expect(difference).toBeGreaterThanOrEqual(Math.min(...slopes) - slack);
      expect(difference).toBeLessThanOrEqual(Math.max(...slopes) + slack);
    });
  });
}

describe('every device', () => {
  test('slopes of the currents are their central differences', () => {
    fc.assert(
      fc.property(placed, ({ device, controls }) => {
        expectSlopes((at) => {
          const { currents, slopes } = solvedAt(device, at);
          return { values: currents, slopes };
        }, controls);
      }),
      run,
    );
  });

  test('slopes of the charges are their central differences', () => {
    fc.assert(
      fc.property(placed, ({ device, controls }) => {
        expectSlopes((at) => {
          const { charges, slopes } = storedAt(device, at);
          return { values: charges, slopes };
        }, controls);
      }),
      run,
    );
  });

  test('what flows in flows out, and so do slopes and charges', () => {
    fc.assert(
      fc.property(placed, ({ device, controls }) => {
        const width = controls.length;
        const { currents, slopes } = solvedAt(device, controls);
        const { charges, slopes: capacitances } = storedAt(device, controls);
        for (const [values, stride] of [
          [currents, 1],
          [slopes, width],
          [charges, 1],
          [capacitances, width],
        ] as const) {
          for (let k = 0; k < stride; k += 1) {
            const column = Array.from(values).filter((_, index) => index % stride === k);
            const sum = column.reduce((a, b) => a + b, 0);
            // Three sums of rounded numbers.
            expect(Math.abs(sum)).toBeLessThanOrEqual(4 * Number.EPSILON * Math.max(...column.map(Math.abs)));
          }
        }
      }),
      run,
    );
  });

  test('nothing flows at rest', () => {
    fc.assert(
      fc.property(anyType, kelvin, (type, t) => {
        const device = deviceOf(type, t);
        const { currents } = solvedAt(
          device,
          device.start.map(() => 0),
        );
        expect(currents.every((amps) => amps === 0)).toBe(true);
      }),
      run,
    );
  });

  test('every answer is finite for controls up to ±1 GV', () => {
    const trial = fc.oneof(
      fc.double({ min: -1e9, max: 1e9, noNaN: true }),
      fc.double({ min: -100, max: 100, noNaN: true }),
      fc.constantFrom(0, -1e9, 1e9, 5e-324),
    );
    fc.assert(
      fc.property(anyType, kelvin, fc.tuple(trial, trial), fc.tuple(trial, trial), (type, t, wished, last) => {
        const device = deviceOf(type, t);
        const controls = wished.slice(0, device.controls.length);
        const { currents, slopes } = solvedAt(device, controls);
        const { charges, slopes: capacitances } = storedAt(device, controls);
        const proposed = Float64Array.from(controls);
        device.limit(proposed, Float64Array.from(last));
        const densities = device.noise(Float64Array.from(controls)).map((source) => source.density);
        const all = [currents, slopes, charges, capacitances, proposed, densities].flatMap((part) => [...part]);
        expect(all.every(Number.isFinite)).toBe(true);
        expect(densities.every((density) => density >= 0)).toBe(true);
      }),
      run,
    );
  });

  test('no device makes power: the currents never return what the controls do not give', () => {
    fc.assert(
      fc.property(placed, ({ device, controls }) => {
        // With lead voltages against the common lead of all controls, Σ v·i is the power taken up.
        const { currents } = solvedAt(device, controls);
        const shared =
          device.controls.length === 1 ? 1 : device.controls[0]!.find((lead) => device.controls[1]!.includes(lead))!;
        const volts = device.leads.map((_, lead) => {
          const k = device.controls.findIndex((pair) => pair.includes(lead));
          if (lead === shared) return 0;
          return device.controls[k]![0] === shared ? -controls[k]! : controls[k]!;
        });
        const terms = volts.map((v, lead) => v * currents[lead]!);
        const power = terms.reduce((a, b) => a + b, 0);
        // Cancelling terms leave their roundings, those of an exponent among them.
        expect(power).toBeGreaterThanOrEqual(-roundings * Math.max(...terms.map(Math.abs)));
      }),
      run,
    );
  });
});
