import type { BipolarType, Circuit, DiodeType } from '@curvewright/board';
import { thermalVoltage } from '@curvewright/devices';
import { describe, expect, it } from 'vitest';
import { linearise, steadySearch, type SteadyState } from '../src/index.ts';
import { capacitor, circuit, rail, resistor, typed } from './circuits.ts';
import { runCircuit, voltsAt } from './in-time.ts';
import { biased, gainAt } from './solved.ts';

const npn: BipolarType = { kind: 'npn', hFE: [{ value: 300, at: 0 }], VBE: { value: 0.6, at: 1e-3 } };
const diode: DiodeType = { kind: 'diode', VF: [{ value: 0.65, at: 1e-3 }] };

/** The states of a circuit's only channel at growing levels (V rms), each sought from the one before it. */
function states(of: Circuit, hz: number, levels: readonly number[]): readonly SteadyState[] {
  const { network, point } = biased(of);
  const search = steadySearch(network, point, linearise(network, point), 0, hz);
  let near: SteadyState | null = null;
  return levels.map((level) => {
    near = search.at(level, near);
    if (near === null) throw new Error(`no steady state at ${level} V`);
    return near;
  });
}

function amplitude({ output }: SteadyState, k: number): number {
  return Math.hypot(output[2 * k]!, output[2 * k + 1]!);
}

function thd(state: SteadyState): number {
  let sum = 0;
  for (let k = 2; k <= 10; k++) sum += amplitude(state, k) ** 2;
  return Math.sqrt(sum) / amplitude(state, 1);
}

/** Modified Bessel function of the first kind, by its power series. */
function besselI(n: number, x: number): number {
  let term = 1;
  for (let m = 1; m <= n; m++) term *= x / 2 / m;
  let sum = 0;
  for (let m = 0; m < 60; m++) {
    sum += term;
    term *= (x / 2) ** 2 / ((m + 1) * (m + 1 + n));
  }
  return sum;
}

/** Base on the generator, emitter 0.5 V below it, collector current into a resistor too small to saturate it. */
const exponential = circuit(
  [rail('vcc', 20), rail('vee', -0.5)],
  [resistor('R1', 100, 'vcc', 'out'), typed('Q1', npn, { collector: 'out', base: 'in', emitter: 'vee' })],
);

/** A stage with emitter and collector feedback and a coupling capacitor. */
const stage = circuit(
  [rail('vcc', 20)],
  [
    capacitor('C1', 10e-6, 'in', 'b'),
    resistor('R1', 470e3, 'c', 'b'),
    resistor('R2', 4.7e3, 'vcc', 'c'),
    resistor('R3', 100, 'e', 'gnd'),
    typed(
      'Q1',
      { ...npn, earlyVoltage: 80, fT: { value: 100e6, at: 1e-3 }, Cob: 4e-12 },
      { collector: 'c', base: 'b', emitter: 'e' },
    ),
    capacitor('C2', 1e-6, 'c', 'out'),
    resistor('R4', 47e3, 'out', 'gnd'),
  ],
);

describe('a steady sine', () => {
  // Clarke & Hess, Communication Circuits (1971), chapter 4 (from memory): the current of an exponential driven by VT·x·cos has harmonics in the ratio of I_n(x).
  it.each([0.1, 1, 3])('makes of an exponential the harmonics that Bessel functions tell, x = %f', (x) => {
    const [state] = states(exponential, 1000, [(x * thermalVoltage(298.15)) / Math.SQRT2]);
    for (let k = 2; k <= 4; k++) {
      expect(Math.abs(amplitude(state!, k) / amplitude(state!, 1) / (besselI(k, x) / besselI(1, x)) - 1)).toBeLessThan(
        1e-6,
      );
    }
    const series = Math.hypot(...Array.from({ length: 9 }, (_, i) => besselI(i + 2, x))) / besselI(1, x);
    expect(Math.abs(thd(state!) / series - 1)).toBeLessThan(1e-6);
  });

  it.each([20, 1000, 20_000])('at a small level has the gain of the small signal, %i Hz', (hz) => {
    const [state] = states(stage, hz, [1e-6]);
    const [re, im] = gainAt(stage, hz);
    // Gain moves with the square of the level, (1 µV over VT)² = 2e-9 at most, and the search leaves 1e-7 of a swing.
    const [outRe, outIm] = [state!.output[2]! / (1e-6 * Math.SQRT2), state!.output[3]! / (1e-6 * Math.SQRT2)];
    expect(Math.hypot(outRe - re, outIm - im) / Math.hypot(re, im)).toBeLessThan(2e-7);
  });

  it('distorts more when it is louder, in proportion where it is small', () => {
    const found = states(stage, 1000, [1e-4, 2e-4, 1e-3, 5e-3, 0.02, 0.05, 0.08]);
    const distortions = found.map(thd);
    for (let n = 1; n < found.length; n++) expect(distortions[n]).toBeGreaterThan(distortions[n - 1]!);
    // Second harmonic over fundamental is the first term of a series in the level, the next is its square: below (0.2 mV·gain over VT)².
    expect(Math.abs(distortions[1]! / distortions[0]! - 2)).toBeLessThan(1e-4);
  });

  it('gives a symmetric clipper odd harmonics alone', () => {
    const [state] = states(clipper, 1000, [1]);
    expect(amplitude(state!, 3)).toBeGreaterThan(0.01);
    for (let k = 0; k <= 10; k += 2) expect(amplitude(state!, k) / amplitude(state!, 1)).toBeLessThan(1e-9);
  });
});

const clipper = circuit(
  [],
  [
    resistor('R1', 1e3, 'in', 'out'),
    capacitor('C1', 22e-9, 'out', 'gnd'),
    typed('D1', diode, { anode: 'out', cathode: 'gnd' }),
    typed('D2', diode, { anode: 'gnd', cathode: 'out' }),
  ],
);

/** No coupling capacitor, so that time stepping is at rest after a few periods; driven far into cut-off and saturation. */
const saturating = (more: Partial<BipolarType>): Circuit =>
  circuit(
    [rail('vcc', 5), rail('vee', -0.7)],
    [
      resistor('R1', 1e3, 'in', 'b'),
      resistor('R2', 3.3e3, 'vcc', 'out'),
      resistor('R3', 220, 'e', 'vee'),
      capacitor('C1', 10e-9, 'out', 'gnd'),
      typed('Q1', { ...npn, Cob: 4e-12, ...more }, { collector: 'out', base: 'b', emitter: 'e' }),
    ],
  );

/** Amplitudes of the harmonics of a node over the last of so many periods of time stepping from rest. */
function amplitudesInTime(of: Circuit, hz: number, peak: number, periods: number): readonly number[] {
  const samples = 256;
  const instants = Array.from({ length: samples }, (_, n) => (periods - 1 + (n + 1) / samples) / hz);
  const volts: number[] = [];
  const input = (seconds: number): number => peak * Math.sin(2 * Math.PI * hz * seconds);
  runCircuit(of, { 'input@mono': input }, { until: periods / hz, corners: instants }, ({ to, end }, network) => {
    const next = instants[volts.length];
    if (next !== undefined && Math.abs(to - next) < 1e-12) volts.push(voltsAt(network, end, 'out'));
  });
  if (volts.length !== samples) throw new Error(`${volts.length} of ${samples} instants were met`);
  return Array.from({ length: 11 }, (_, k) => {
    const angle = (n: number): number => (2 * Math.PI * k * n) / samples;
    const re = volts.reduce((sum, v, n) => sum + v * Math.cos(angle(n)), 0);
    const im = volts.reduce((sum, v, n) => sum + v * Math.sin(angle(n)), 0);
    return (2 * Math.hypot(re, im)) / samples;
  });
}

describe('the search for a steady sine', () => {
  const { network, point } = biased(saturating({}));
  const small = linearise(network, point);

  it('finds the same state from below, from above and from rest', () => {
    const search = steadySearch(network, point, small, 0, 2000);
    const low = search.at(0.05, null)!;
    const high = search.at(0.15, search.at(0.1, low), low)!;
    const ways = [search.at(0.12, low, high), search.at(0.12, high, low), search.at(0.12, null)];
    for (const state of ways) {
      // The search leaves 1e-7 of each control's swing, some volts, through transfers of about 1 to an output of volts.
      for (let k = 1; k <= 10; k++) expect(Math.abs(amplitude(state!, k) - amplitude(ways[0]!, k))).toBeLessThan(1e-6);
    }
  });

  it('finds with jumps smoothed what it finds with sharp ones where nothing jumps', () => {
    const levels = [0.05, 0.1, 0.15];
    const [sharp, smoothed] = (['sharp', 'smoothed'] as const).map((jumps) => {
      const search = steadySearch(network, point, small, 0, 2000, jumps);
      return levels.reduce<SteadyState | null>((near, level) => search.at(level, near), null)!;
    });
    expect(thd(sharp!)).toBeGreaterThan(0.02);
    // 31 harmonics of a wave with corners, where the other has 63.
    for (let k = 1; k <= 5; k++) {
      expect(Math.abs(amplitude(smoothed!, k) - amplitude(sharp!, k))).toBeLessThan(2e-3 * amplitude(sharp!, 1));
    }
  });
});

describe('a steady sine against time stepping', () => {
  it('clips between two diodes alike', () => {
    const [state] = states(clipper, 1000, [1]);
    const inTime = amplitudesInTime(clipper, 1000, Math.SQRT2, 3);
    // The integrator holds 1e-6 of a volt a step; some hundred steps to the period.
    for (const k of [1, 3, 5, 7]) expect(Math.abs(amplitude(state!, k) - inTime[k]!)).toBeLessThan(1e-4 * inTime[1]!);
  });

  // With a transit time of 1.6 µs at 20 kHz the stored charge, not the current alone, shapes the wave; it lives for 0.5 ms, an eighth of the run.
  it.each([
    ['without', {}, 2000, 4],
    ['with', { fT: { value: 100e3, at: 1e-3 }, Cib: 0 }, 20_000, 80],
  ])('saturates and cuts off a transistor alike, %s charge stored in it', (_, charge, hz, periods) => {
    const board = saturating(charge);
    const levels = [0.05, 0.1, 0.15, 0.2, 0.25, 0.3];
    const state = states(board, hz, levels).at(-1)!;
    const inTime = amplitudesInTime(board, hz, 0.3 * Math.SQRT2, periods);
    expect(thd(state)).toBeGreaterThan(0.05);
    // 63 harmonics, the upper ones weighted down, of a wave with corners: their amplitudes fall with the square of the order.
    for (let k = 1; k <= 5; k++) expect(Math.abs(amplitude(state, k) - inTime[k]!)).toBeLessThan(1e-3 * inTime[1]!);
  });
});
