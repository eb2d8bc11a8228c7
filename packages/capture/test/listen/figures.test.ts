import { describe, expect, it, vi } from 'vitest';
import { aWeightingPower } from '@curvewright/curves';
import { listen, type ListenInput, type Wav } from '../../src/index.ts';
import { madeRecording, normalNumbers, shortPlan } from './made-recording.ts';

// Recordings are worked through as a whole: a second each, and much longer where a busy machine runs it.
vi.setConfig({ testTimeout: 120_000 });

const nothing = { loopback: null, shorted: null, adapter: null, chain: null, level: null, fullScale: null };

function input(given: Pick<ListenInput, 'plan' | 'recording'> & Partial<ListenInput>): ListenInput {
  return { ...nothing, ...given };
}

describe('distortion', () => {
  it.each(['flat', 'inverse_riaa'] as const)('of a known polynomial, from a sweep shaped %s', (shaping) => {
    const plan = shortPlan({
      steps: ['level', 'sweep'],
      shaping,
      sweepSeconds: 6,
      levelDbfs: shaping === 'flat' ? -12 : -30,
    });
    // A shaped sweep is loudest in the treble, where high orders of a polynomial of samples fold back below half the rate, as no circuit's do.
    const [a2, a3, a4, a5] = shaping === 'flat' ? [0.02, 0.04, 0.3, 0.5] : [0.02, 0.04, 0, 0];
    const board = (samples: Float64Array): Float64Array =>
      samples.map((x) => x + a2 * x ** 2 + a3 * x ** 3 + a4 * x ** 4 + a5 * x ** 5);
    const [channel] = listen(
      input({ plan, recording: madeRecording(plan, { bits: 24, noise: 1e-7, board }) }),
    ).channels;
    // A shaped sweep is so soft in the bass that rounding to 24 bits hides its distortion there.
    for (const hz of shaping === 'flat' ? [50, 100, 1000, 3150] : [1000, 3150]) {
      const point = channel!.points.find((each) => each.hz === hz)!;
      const level = amplitudeAt(shaping, plan.levelDbfs, hz);
      // Powers of sin: textbook identities (Chebyshev).
      const first = level + (3 / 4) * a3 * level ** 3 + (5 / 8) * a5 * level ** 5;
      const orders = [
        (a2 * level ** 2) / 2 + (a4 * level ** 4) / 2,
        (a3 * level ** 3) / 4 + (5 / 16) * a5 * level ** 5,
        (a4 * level ** 4) / 8,
        (a5 * level ** 5) / 16,
      ];
      const within = (percent: number | null | undefined, share: number): void => {
        // Asked: 0.5 dB.
        expect(Math.abs(20 * Math.log10((percent ?? NaN) / (100 * share)))).toBeLessThan(0.5);
      };
      within(point.thdPercent, Math.hypot(...orders) / first);
      if (shaping === 'flat')
        orders.slice(0, 2).forEach((order, n) => {
          within(point.distortion!.orders[n]!.percent, order / first);
        });
    }
  });

  it('that does not stand out of the noise is none, with its floor', () => {
    const plan = shortPlan({ steps: ['sweep'] });
    const [channel] = listen(
      input({ plan, recording: madeRecording(plan, { noise: 1e-3, board: (samples) => samples }) }),
    ).channels;
    const point = channel!.points.find(({ hz }) => hz === 1000)!;
    expect(point.thdPercent === null || point.thdPercent < 3 * point.distortion!.floorPercent).toBe(true);
    expect(point.distortion!.floorPercent).toBeGreaterThan(0.01);
    expect(point.distortion!.floorPercent).toBeLessThan(2);
  });
});

/** Played peak at a frequency: the cut of a record over its level at 1 kHz (IEC 60098's time constants). */
function amplitudeAt(shaping: 'flat' | 'inverse_riaa', levelDbfs: number, hz: number): number {
  const playback = (f: number): number => {
    const w = 2 * Math.PI * f;
    return Math.sqrt((1 + (w * 318e-6) ** 2) / ((1 + (w * 3180e-6) ** 2) * (1 + (w * 75e-6) ** 2)));
  };
  return 10 ** (levelDbfs / 20) * (shaping === 'flat' ? 1 : playback(1000) / playback(hz));
}

describe('noise', () => {
  const plan = shortPlan({ steps: ['level', 'sweep', 'silence'] });
  const { rate } = plan;
  const recording = madeRecording(plan, { bits: 24, noise: 1e-6, board: (samples) => samples });
  const kelvin = 298.15;
  /** V/√Hz of 10 kΩ at 25 °C: √(4kTR), k exact (SI 2019). */
  const density = Math.sqrt(4 * 1.380649e-23 * kelvin * 10_000);
  /** Full scale in V at the input: the tone of −12 dB re full scale is stated as 5 mV rms. */
  const fullScale = (5e-3 * Math.SQRT2) / 10 ** (-12 / 20);

  function hiss(seconds: number, seed: number, volts: number): Wav {
    const normal = normalNumbers(seed);
    const deviation = (volts * Math.sqrt(rate / 2)) / fullScale;
    const samples = Float64Array.from({ length: seconds * rate }, () => deviation * normal());
    return { rate, bits: 32, format: 'float', channels: [samples, samples], frames: samples.length, lost: [] };
  }

  it("of a resistor's synthetic hiss is told to 0.1 dB, unweighted and A-weighted", () => {
    const [left] = listen(input({ plan, recording, shorted: hiss(10, 11, density), level: 5e-3 })).channels;
    // Ten seconds of 20 kHz: a standard deviation of 0.01 dB; of A's 12.5 kHz 0.02 dB.
    const within = (uv: number | undefined, bandwidth: number): void => {
      expect(Math.abs(20 * Math.log10((uv ?? NaN) / (1e6 * density * Math.sqrt(bandwidth))))).toBeLessThan(0.1);
    };
    expect(left?.noise?.from).toBe('shorted');
    within(left?.noise?.band?.inputUv ?? undefined, 20_000 - 20);
    // Noise bandwidth of A from 20 Hz to 20 kHz: 12467.2 Hz, computed from IEC 61672-1's poles; its sum here is a check of its own.
    expect(bandwidthOfA()).toBeCloseTo(12_467.2, 0);
    within(left?.noise?.aWeighted?.inputUv ?? undefined, 12_467.2);
    expect(left?.noise?.band?.snrDb).toBeCloseTo(20 * Math.log10(5e-3 / (density * Math.sqrt(19_980))), 1);
  });

  it("has the measuring set's own taken off as a power, and is none where nothing is left", () => {
    const loopback = madeRecording(plan, {
      bits: 24,
      noise: (0.7 * density * Math.sqrt(rate / 2)) / fullScale,
      board: (samples) => samples,
    });
    const both = hiss(10, 12, density * Math.hypot(1, 0.7));
    const [left] = listen(input({ plan, recording, loopback, shorted: both, level: 5e-3 })).channels;
    // Two readings, of ten and of two seconds, and one taken off the other: 0.05 dB.
    expect(
      Math.abs(20 * Math.log10((left?.noise?.band?.inputUv ?? NaN) / (1e6 * density * Math.sqrt(19_980)))),
    ).toBeLessThan(0.2);
    expect(left?.noise?.interfaceDb).toBeCloseTo(10 * Math.log10(0.49 / 1.49), 0);
    const [none] = listen(
      input({ plan, recording, loopback, shorted: hiss(10, 13, 0.7 * density), level: 5e-3 }),
    ).channels;
    expect(none?.noise?.band).toBeNull();
  });
});

function bandwidthOfA(): number {
  let sum = 0;
  for (let hz = 20.5; hz < 20_000; hz++) sum += aWeightingPower(hz);
  return sum;
}

describe('a loop-back', () => {
  it('takes player and recorder off, and gives the gain', () => {
    const plan = shortPlan({ steps: ['level', 'sweep'], sweepSeconds: 4 });
    const set = (samples: Float64Array): Float64Array => smoothed(samples).map((x) => 0.8 * x);
    const recording = madeRecording(plan, {
      bits: 24,
      noise: 1e-6,
      board: (samples) => set(samples).map((x) => 2.5 * x),
    });
    const loopback = madeRecording(plan, { bits: 24, noise: 1e-6, lead: 4000, board: set });
    const answer = listen(input({ plan, recording, loopback }));
    const [left] = answer.channels;
    // Both share every error of the reading; what is left is rounding and noise 100 dB down.
    expect(left?.gainDb).toBeCloseTo(20 * Math.log10(2.5), 2);
    for (const hz of [20, 100, 5000, 20_000]) {
      const point = left?.points.find((each) => each.hz === hz);
      expect(point?.gainDb).toBeCloseTo(20 * Math.log10(2.5), 2);
    }
    expect(answer.problems).toEqual([]);
    expect(answer.balanceDb).toBeLessThan(0.01);
  });
});

describe('crosstalk', () => {
  it('is told where it stands out of the noise, and its least where it does not', () => {
    const plan = shortPlan({ steps: ['left', 'right'] });
    const clean = madeRecording(plan, { bits: 24, noise: 1e-5 });
    const [left, right] = clean.channels;
    const share = 10 ** (-40 / 20);
    const recording = { ...clean, channels: [left!, right!.map((x, n) => x + share * left![n]!)] };
    const { crosstalk } = listen(input({ plan, recording }));
    const at = (from: string, to: string): (typeof crosstalk)[number] | undefined =>
      crosstalk.find((point) => point.hz === 1000 && point.from === from && point.to === to);
    // What comes across stands some 20 dB out of the noise there: 1 dB.
    expect(Math.abs((at('left', 'right')?.db ?? NaN) - 40)).toBeLessThan(1);
    expect(at('right', 'left')?.db).toBeNull();
    expect(at('right', 'left')?.atLeastDb).toBeGreaterThan(50);
  });
});

/** A converter's fall in the treble. */
function smoothed(samples: Float64Array): Float64Array {
  let last = 0;
  return samples.map((x) => {
    last += 0.6 * (x - last);
    return last;
  });
}
