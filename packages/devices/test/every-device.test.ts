import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { deviceOf, type DeviceType } from '../src/index.ts';
import { anyType, between, run } from './invented-types.ts';
import { solvedAt, storedAt } from './solved-at.ts';

/** V; a power of two, small against kT/q so that the slope hardly moves across it. */
const step = 2 ** -22;

/** Roundings in a current: each exponent carries up to some 50 eps, and a handful of sums follow. */
const roundings = 256 * Number.EPSILON;

const kelvin = between(273, 330);

/** Controls where something happens in a part of this type: junctions that turn on or break down, ends of the channel, the anode's onset. */
function turns(type: DeviceType): readonly number[][] {
  switch (type.kind) {
    case 'npn':
    case 'pnp': {
      const sign = type.kind === 'npn' ? 1 : -1;
      const vbe = [type.VBE.value, type.VBE.value - 0.15, -1.4 * (type.VEBO ?? 0)];
      return [vbe.map((v) => sign * v), [sign * type.VBE.value, (sign * (type.earlyVoltage ?? 0)) / 2, -sign * 10]];
    }
    case 'diode':
      return [[type.VF[0]!.value, 0]];
    case 'zener':
      return [[-type.VZ.value, 0.7]];
    case 'jfet-n':
    case 'jfet-p': {
      const sign = type.kind === 'jfet-n' ? 1 : -1;
      const ends = [0, -sign * type.pinchOff, 0.6 * sign];
      return [ends, ends];
    }
    case 'triode':
      return [
        [0, -type.at.Va / type.mu, 1],
        [0, type.at.Va / 20, type.at.Va],
      ];
  }
}

/** Controls about those places, and farther out. */
function controlsOf(type: DeviceType): fc.Arbitrary<number[]> {
  const each = turns(type).map((places) =>
    fc.oneof(
      fc.tuple(fc.constantFrom(...places), between(-0.2, 0.2)).map(([place, offset]) => place + offset),
      fc.tuple(fc.constantFrom(...places), between(-step, step)).map(([place, offset]) => place + offset),
      between(-40, 40),
    ),
  );
  return fc.tuple(...each);
}

const placed = fc
  .tuple(anyType, kelvin)
  .chain(([type, t]) => fc.record({ device: fc.constant(deviceOf(type, t)), controls: controlsOf(type) }));

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
    const trial = fc.oneof(between(-1e9, 1e9), between(-100, 100), fc.constantFrom(0, -1e9, 1e9, 5e-324));
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
