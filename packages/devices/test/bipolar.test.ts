import type { BipolarType } from '@curvewright/board';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bipolar, datasheetKelvin, thermalVoltage, transitTime } from '../src/index.ts';
import { bisect } from '../src/root.ts';
import { between, bipolarTypes, npn, run } from './invented-types.ts';
import { relative, solvedAt, storedAt } from './solved-at.ts';

const vt = thermalVoltage(datasheetKelvin);

/** The exponent carries about 30 eps of rounding, and each figure a few more. */
const rounding = 1e-12;

/** Base-emitter volts at which the collector carries `amps` with vbc = 0. */
function vbeFor(type: BipolarType, amps: number, kelvin: number): number {
  const device = bipolar(type, kelvin);
  return bisect((v) => solvedAt(device, [v, 0]).currents[0]! - amps, 0, 1);
}

describe('figures of the datasheet', () => {
  test('VBE and hFE hold at their currents', () => {
    fc.assert(
      fc.property(bipolarTypes, (type) => {
        const sign = type.kind === 'npn' ? 1 : -1;
        const device = bipolar(type, datasheetKelvin);
        const atVbe = solvedAt(device, [sign * type.VBE.value, 0]).currents;
        expect(relative(sign * atVbe[0]!, type.VBE.at)).toBeLessThan(rounding);
        const saturation = type.VBE.at / Math.expm1(type.VBE.value / vt);
        for (const { value, at } of type.hFE) {
          const amps = at === 0 ? 1e-3 : at;
          const vbe = type.VBE.value + vt * Math.log((amps + saturation) / (type.VBE.at + saturation));
          const { currents } = solvedAt(device, [sign * vbe, 0]);
          expect(relative(currents[0]! / currents[1]!, value)).toBeLessThan(rounding);
        }
      }),
      run,
    );
  });

  test('hFE between two points lies on a straight line in log over log, and stays beyond them', () => {
    const type: BipolarType = {
      ...npn,
      hFE: [
        { value: 100, at: 1e-5 },
        { value: 400, at: 1e-3 },
      ],
    };
    const gain = (amps: number): number => {
      const { currents } = solvedAt(bipolar(type, datasheetKelvin), [vbeFor(type, amps, datasheetKelvin), 0]);
      return currents[0]! / currents[1]!;
    };
    expect(relative(gain(1e-4), 200)).toBeLessThan(rounding);
    expect(relative(gain(1e-6), 100)).toBeLessThan(rounding);
    expect(relative(gain(1e-2), 400)).toBeLessThan(rounding);
  });

  test('the output resistance is (VA + vcb)/IC', () => {
    const { currents, slopes } = solvedAt(bipolar(npn, datasheetKelvin), [0.6, -5]);
    // The collector also carries the saturation current of its own junction, some 1e-14 A beside 1 mA.
    expect(relative(-currents[0]! / slopes[1]!, 90 + 5)).toBeLessThan(1e-9);
  });

  test('upside down it has a gain of 5', () => {
    const { earlyVoltage: _, ...ideal } = npn;
    const { currents } = solvedAt(bipolar(ideal, datasheetKelvin), [0, 0.6]);
    expect(relative(currents[2]! / currents[1]!, 5)).toBeLessThan(rounding);
  });

  test('the base-emitter junction breaks down at 1.4 × VEBO, and not where VEBO is silent', () => {
    const { VEBO: _, ...silent } = npn;
    // 10 µA at 7 V; the rating itself lies 2 V below, 78 times kT/q: nothing but the saturation current there.
    expect(solvedAt(bipolar(npn, datasheetKelvin), [-7, -7]).currents[2]!).toBeCloseTo(10e-6, 11);
    expect(Math.abs(solvedAt(bipolar(npn, datasheetKelvin), [-5, -7]).currents[2]!)).toBeLessThan(1e-12);
    expect(Math.abs(solvedAt(bipolar(silent, datasheetKelvin), [-7, -7]).currents[2]!)).toBeLessThan(1e-12);
  });

  test('a pnp mirrors an npn exactly', () => {
    const volts = between(-40, 1);
    fc.assert(
      fc.property(bipolarTypes, volts, volts, (type, vbe, vbc) => {
        const n = bipolar({ ...type, kind: 'npn' }, 300);
        const p = bipolar({ ...type, kind: 'pnp' }, 300);
        const [staticN, staticP] = [solvedAt(n, [vbe, vbc]), solvedAt(p, [-vbe, -vbc])];
        const [storedN, storedP] = [storedAt(n, [vbe, vbc]), storedAt(p, [-vbe, -vbc])];
        staticN.currents.forEach((amps, lead) => expect(amps + staticP.currents[lead]!).toBe(0));
        storedN.charges.forEach((coulombs, lead) => expect(coulombs + storedP.charges[lead]!).toBe(0));
        expect(staticP.slopes).toEqual(staticN.slopes);
        expect(storedP.slopes).toEqual(storedN.slopes);
      }),
      run,
    );
  });
});

describe('physics', () => {
  const { earlyVoltage: _, ...ideal } = npn;

  test('gm at 1 mA and 300 K is 38.682 mS (qI/kT, computed from SI 2019 constants)', () => {
    const { slopes } = solvedAt(bipolar(ideal, 300), [vbeFor(ideal, 1e-3, 300), 0]);
    // Half a unit of the last printed digit.
    expect(Math.abs(slopes[0]! - 38.682e-3)).toBeLessThan(0.5e-6);
    // rπ = hFE/gm.
    expect(relative(slopes[0]! / slopes[2]!, 320)).toBeLessThan(1e-9);
  });

  test('a decade of current takes 59.53 mV at 300 K (kT/q·ln 10, computed)', () => {
    const rise = vbeFor(ideal, 10e-3, 300) - vbeFor(ideal, 1e-3, 300);
    expect(Math.abs(rise - 59.53e-3)).toBeLessThan(0.5e-5);
  });

  test('VBE falls by about 2 mV/K (common practice, no source)', () => {
    const slope = (vbeFor(ideal, 1e-3, 308.15) - vbeFor(ideal, 1e-3, 298.15)) / 10;
    expect(slope).toBeGreaterThan(-2.3e-3);
    expect(slope).toBeLessThan(-1.7e-3);
  });

  test('shot noise of 1 mA is 17.901 pA/√Hz and of the base that of its own current, with its corner', () => {
    const [collector, base] = bipolar(ideal, 300).noise(Float64Array.of(vbeFor(ideal, 1e-3, 300), 0));
    expect(Math.abs(Math.sqrt(collector!.density) - 17.901e-12)).toBeLessThan(0.5e-15);
    expect(relative(collector!.density / base!.density, 320)).toBeLessThan(1e-9);
    expect([collector!.corner, base!.corner]).toEqual([0, 300]);
  });
});

describe('collector-base leakage', () => {
  const leaky: BipolarType = { ...npn, ICBO: 10e-6 };
  /** A from collector to base with the emitter on the base, over what the sound transistor passes. */
  const leak = (vcb: number, kelvin = datasheetKelvin): number => {
    const [sound, aged] = [npn, leaky].map((type) => solvedAt(bipolar(type, kelvin), [0, -vcb]).currents[0]!);
    return aged! - sound!;
  };

  test('is ICBO at any reverse voltage from 0.1 V on, and flows into the base', () => {
    // tanh(0.1 V/(2kT/q)) = tanh(1.946) = 0.960; at 0.3 V it lacks 2e^(−11.7) = 1.7e-5.
    expect(leak(0.1) / 10e-6).toBeCloseTo(0.96, 3);
    expect(Math.abs(leak(0.3) / 10e-6 - 1)).toBeLessThan(2e-5);
    expect(relative(leak(20), 10e-6)).toBeLessThan(rounding);
    const { currents } = solvedAt(bipolar(leaky, datasheetKelvin), [0, -20]);
    expect(relative(-currents[1]!, 10e-6)).toBeLessThan(1e-6);
    expect(Math.abs(currents[2]!)).toBeLessThan(1e-12);
  });

  test('is nothing at rest, and no more than ICBO forward', () => {
    expect(leak(0)).toBe(0);
    expect(leak(-0.3) / -10e-6).toBeCloseTo(1, 4);
  });

  test('doubles every 10 K', () => {
    expect(relative(leak(5, datasheetKelvin + 10) / leak(5), 2)).toBeLessThan(rounding);
    expect(relative(leak(5, datasheetKelvin - 20) / leak(5), 0.25)).toBeLessThan(rounding);
  });

  test('with an open base is multiplied: ICEO = (hFE + 1)·ICBO', () => {
    const { earlyVoltage: _, ...flat } = leaky;
    const device = bipolar(flat, datasheetKelvin);
    const vbe = bisect((v) => solvedAt(device, [v, v - 10]).currents[1]!, 0, 1);
    // The junction's own saturation current, some 1e-14 A, is the rest.
    expect(relative(solvedAt(device, [vbe, vbe - 10]).currents[0]!, 321 * 10e-6)).toBeLessThan(1e-6);
  });

  test('makes the shot noise of its own, 2q·10 µA, and none of the other junctions', () => {
    const at = Float64Array.of(0, -5);
    const named = (type: BipolarType): Map<string, number> =>
      new Map(
        bipolar(type, datasheetKelvin)
          .noise(at)
          .map(({ name, density }) => [name, density]),
      );
    // 2 × 1.602176634e-19 C × 10 µA.
    expect(relative(named(leaky).get('shot of the leakage')!, 3.204353268e-24)).toBeLessThan(rounding);
    // 2q times the rounding of 10 µA.
    for (const name of ['shot of the collector', 'shot of the base'])
      expect(Math.abs(named(leaky).get(name)! - named(npn).get(name)!)).toBeLessThan(Number.EPSILON * 3.3e-24);
    expect(named(npn).has('shot of the leakage')).toBe(false);
  });

  test('at rest its noise is the Johnson noise 4kT of its slope', () => {
    const [sound, aged] = [npn, leaky].map((type) => solvedAt(bipolar(type, datasheetKelvin), [0, 0]).slopes);
    const slope = aged![3]! - sound![3]!;
    const [, , source] = bipolar(leaky, datasheetKelvin).noise(Float64Array.of(0, 0));
    expect(relative(source!.density, 4 * 1.380649e-23 * datasheetKelvin * slope)).toBeLessThan(1e-9);
  });
});

describe('charge', () => {
  test('τ of 150 MHz at 5 mA with 6 pF and 3 pF is 1.0148 ns (worked by hand: 1061.03 ps − 9 pF·25.693 mV/5 mA = 46.25 ps)', () => {
    expect(Math.abs(transitTime(npn)! - 1014.79e-12)).toBeLessThan(0.01e-12);
    const { Cib: _, ...silent } = npn;
    expect(Math.abs(transitTime(silent)! - (1061.03e-12 - 30.83e-12))).toBeLessThan(0.01e-12);
  });

  test('fT holds at its current: gm/(2π(Cπ + Cµ))', () => {
    const { earlyVoltage: _, ...ideal } = npn;
    const device = bipolar(ideal, datasheetKelvin);
    const controls = [vbeFor(ideal, 5e-3, datasheetKelvin), 0];
    const capacitance = storedAt(device, controls).slopes;
    const fT = solvedAt(device, controls).slopes[0]! / (2 * Math.PI * (capacitance[2]! + capacitance[3]!));
    expect(relative(fT, 150e6)).toBeLessThan(1e-9);
  });

  test('a plain fT gives Cπ = gm/(2π fT) − Cob at any current, never below zero', () => {
    const type: BipolarType = { ...npn, fT: { value: 150e6 } };
    const device = bipolar(type, datasheetKelvin);
    const at = (amps: number): number => storedAt(device, [vbeFor(type, amps, datasheetKelvin), -5]).slopes[2]!;
    expect(relative(at(1e-3), 1e-3 / vt / (2 * Math.PI * 150e6) - 3e-12)).toBeLessThan(1e-9);
    // gm/(2π fT) is 0.41 pF at 10 µA, less than Cob.
    expect(at(10e-6)).toBe(0);
  });

  test('without fT, Cπ is Cib', () => {
    const { fT: _, ...plain } = npn;
    const { slopes } = storedAt(bipolar(plain, datasheetKelvin), [0.6, -5]);
    expect([...slopes]).toEqual([0, -3e-12, 6e-12, 3e-12, -6e-12, 0]);
  });
});
