import type { DiodeType } from '@curvewright/board';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { boltzmann, datasheetKelvin, diode, thermalVoltage, zener, type Device } from '../src/index.ts';
import { logSaturationRise } from '../src/physics.ts';
import { bisect } from '../src/root.ts';
import { between, diodeTypes, run, zenerTypes } from './invented-types.ts';
import { relative, solvedAt } from './solved-at.ts';

/** Exponents up to a few hundred (a steep breakdown at 12 V) carry as many eps. */
const rounding = 1e-12;

const current = (device: Device, volts: number): number => solvedAt(device, [volts]).currents[0]!;

describe('diode', () => {
  test('carries its stated current at each stated VF', () => {
    fc.assert(
      fc.property(diodeTypes, (type) => {
        const device = diode(type, datasheetKelvin);
        for (const { value, at } of type.VF) expect(relative(current(device, value), at)).toBeLessThan(rounding);
      }),
      run,
    );
  });

  /** Is = 1e-14 A at 300 K, given as the forward voltage such a diode shows at 1 mA and 25 °C. */
  const cold = 1e-14 / Math.exp(logSaturationRise(300));
  const type: DiodeType = {
    kind: 'diode',
    VF: [{ value: thermalVoltage(datasheetKelvin) * Math.log1p(1e-3 / cold), at: 1e-3 }],
  };
  const device = diode(type, 300);
  // Half a unit of the last printed digit each; values computed from Shockley's law with SI 2019 constants.
  test('two equal junctions in series at 1 mA and 300 K drop 0.65479 V each', () => {
    const drop = bisect((v) => current(device, v) - 1e-3, 0, 1);
    expect(Math.abs(drop - 0.65479)).toBeLessThan(0.5e-5);
  });

  test('two diodes in series are one of twice the drop and twice the ideality, at any current and temperature', () => {
    const one = diode({ kind: 'diode', VF: [{ value: 0.65, at: 1e-3 }] }, 310);
    const pair = diode({ kind: 'diode', VF: [{ value: 1.3, at: 1e-3 }], ideality: 2 }, 310);
    for (const amps of [1e-5, 1e-3, 2e-2]) {
      const [single, double] = [one, pair].map((device) => bisect((v) => current(device, v) - amps, 0, 2));
      expect(relative(double!, 2 * single!)).toBeLessThan(rounding);
    }
  });

  test('5 V through 1 kΩ: one diode 4.30746 mA, two in series 3.62385 mA', () => {
    const loop = (count: number): number => {
      const volts = bisect((v) => current(device, v) - (5 - count * v) / 1e3, 0, 1);
      return (5 - count * volts) / 1e3;
    };
    expect(Math.abs(loop(1) - 4.30746e-3)).toBeLessThan(0.5e-8);
    expect(Math.abs(loop(2) - 3.62385e-3)).toBeLessThan(0.5e-8);
  });

  test('a stack falls with temperature in proportion: about 2 mV/K a junction (common practice, no source)', () => {
    const fall = (value: number): number => {
      const warm = diode({ kind: 'diode', VF: [{ value, at: 1e-3 }], ideality: Math.round(value / 0.65) }, 308.15);
      return (bisect((v) => current(warm, v) - 1e-3, 0, 3) - value) / 10;
    };
    expect(fall(0.65)).toBeGreaterThan(-2.2e-3);
    expect(fall(0.65)).toBeLessThan(-1.6e-3);
    expect(relative(fall(1.3), 2 * fall(0.65))).toBeLessThan(1e-9);
  });

  test('at rest its shot noise is the Johnson noise of its slope', () => {
    const [source] = device.noise(Float64Array.of(0));
    expect(relative(source!.density, 4 * boltzmann * 300 * solvedAt(device, [0]).slopes[0]!)).toBeLessThan(rounding);
  });
});

describe('zener', () => {
  test('carries its stated current at VZ, with the slope 1/rz', () => {
    fc.assert(
      fc.property(zenerTypes, between(273, 330), (type, kelvin) => {
        const { currents, slopes } = solvedAt(zener(type, kelvin), [-type.VZ.value]);
        // At 75 V with kT/q the exponent is near 3000: as many eps, and as much again from the voltage's own rounding.
        const exponent = 4 * Number.EPSILON * (type.VZ.value / 0.02);
        expect(relative(-currents[0]!, type.VZ.at)).toBeLessThan(rounding + exponent);
        if (type.rz !== undefined) expect(relative(slopes[0]!, 1 / type.rz)).toBeLessThan(rounding + exponent);
      }),
      run,
    );
  });

  test('conducts forward like a silicon junction where VF is silent, and as VF says', () => {
    const silent = zener({ kind: 'zener', VZ: { value: 12, at: 5e-3 }, rz: 10 }, datasheetKelvin);
    expect(relative(current(silent, 0.7), 10e-3)).toBeLessThan(rounding);
    const stated = zener(
      { kind: 'zener', VZ: { value: 12, at: 5e-3 }, VF: [{ value: 0.8, at: 50e-3 }] },
      datasheetKelvin,
    );
    expect(relative(current(stated, 0.8), 50e-3)).toBeLessThan(rounding);
  });
});
