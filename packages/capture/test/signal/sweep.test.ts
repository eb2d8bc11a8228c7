import { riaaTimes } from '@curvewright/curves';
import { describe, expect, it } from 'vitest';
import { planSignal, renderSegment, sweepHz, type SweepSegment } from '../../src/index.ts';
import { samplesOf, spectrumOf, transformSize } from '../../src/spectrum/fourier.ts';

/** A plain sweep, not faded. */
function sweepOf(fromHz: number, toHz: number, seconds: number): SweepSegment {
  return { kind: 'sweep', at: 0, seconds, feeds: 'both', fromHz, toHz, fadeInSeconds: 0, fadeOutSeconds: 0 };
}

const rate = 48_000;
const flat = { rate, shaping: 'flat', levelDbfs: 0 } as const;

describe('the exponential sweep of A. Farina, AES 108th convention, 2000', () => {
  const sweep = sweepOf(20, 20_000, 10);
  const R = Math.log(1000);

  it('crosses zero where its phase (ω1T/R)(e^(tR/T) − 1) is a whole number of half turns', () => {
    const samples = renderSegment(sweep, flat);
    const crossings: number[] = [];
    for (let n = 1; n < samples.length && crossings.length < 4000; n++) {
      const [before, after] = [samples[n - 1]!, samples[n]!];
      if (before !== 0 && before > 0 !== after > 0) crossings.push((n - 1 + before / (before - after)) / rate);
    }
    const expected = crossings.map((_, n) => (10 / R) * Math.log1p(((n + 1) * Math.PI * R) / (2 * Math.PI * 20 * 10)));
    // Up to 1.4 kHz there; a straight line between samples 1/48000 s apart misses a sine's crossing by less than 1e-7 s.
    crossings.forEach((t, n) => {
      expect(Math.abs(t - expected[n]!)).toBeLessThan(1e-7);
    });
  });

  it('starts and ends at its frequencies, and is at their geometric mean half way', () => {
    expect(sweepHz(sweep, 0)).toBe(20);
    expect(sweepHz(sweep, 10)).toBeCloseTo(20_000, 8);
    expect(sweepHz(sweep, 5)).toBeCloseTo(Math.sqrt(20 * 20_000), 9);
  });

  it('puts harmonic N of a distorting stage (T/R)·ln N ahead', () => {
    const samples = renderSegment(sweep, flat);
    // Chebyshev's polynomial of an order makes of a sine that harmonic alone; here the stage makes orders 2 to 5, each as strong.
    const distorted = samples.map((x) => {
      const angle = Math.acos(Math.min(1, Math.max(-1, x)));
      return [2, 3, 4, 5].reduce((sum, order) => sum + Math.cos(order * angle), 0);
    });
    // The inverse filter: the sweep backwards under an envelope e^(−tR/T).
    const inverse = samples.toReversed().map((x, n) => x * Math.exp((-n / rate / 10) * R));
    const size = transformSize(2 * samples.length);
    const [a, b] = [spectrumOf(distorted, size), spectrumOf(inverse, size)];
    const product = new Float64Array(a.length);
    for (let k = 0; k < product.length; k += 2) {
      product[k] = a[k]! * b[k]! - a[k + 1]! * b[k + 1]!;
      product[k + 1] = a[k]! * b[k + 1]! + a[k + 1]! * b[k]!;
    }
    const response = samplesOf(product);
    // The linear response would stand where the sweep ends.
    const leadOfPeak = (from: number, to: number): number => {
      const at = (lead: number): number => samples.length - 1 - Math.round(lead * rate);
      let peak = at(to);
      for (let n = at(to); n <= at(from); n++) if (Math.abs(response[n]!) > Math.abs(response[peak]!)) peak = n;
      return (samples.length - 1 - peak) / rate;
    };
    // Computed from the published formula for 20 Hz to 20 kHz in 10 s.
    const published = [1.003433, 1.590404, 2.006867, 2.3299];
    const found = [leadOfPeak(0.6, 1.3), leadOfPeak(1.3, 1.8), leadOfPeak(1.8, 2.15), leadOfPeak(2.15, 2.6)];
    found.forEach((lead, n) => {
      // A peak is known to a sample or two.
      expect(Math.abs(lead - published[n]!)).toBeLessThan(2 / rate);
    });
  });
});

describe('a sweep shaped for a record', () => {
  it('reads flat behind the playback curve from 20 Hz to 20 kHz', () => {
    const plan = planSignal({
      rate,
      steps: ['sweep'],
      shaping: 'inverse_riaa',
      levelDbfs: -26,
      sweepSeconds: 5,
      silenceSeconds: 1,
      fromHz: 5,
      toHz: 21_600,
    });
    const sweep = plan.segments.find((each) => each.kind === 'sweep')!;
    const envelope = playedBack(renderSegment(sweep, plan));
    const deviations = [20, 50, 100, 300, 1000, 3000, 10_000, 20_000].map((hz) => {
      const t = (sweep.seconds * Math.log(hz / 5)) / Math.log(21_600 / 5);
      return 20 * Math.log10(envelope[Math.round(t * rate)]!) + 26;
    });
    // A sweep of 0.65 s an octave is not quite a steady sine: at 20 Hz the curve moves by 0.02 dB in the 10 ms that it delays.
    deviations.forEach((db) => {
      expect(Math.abs(db)).toBeLessThan(0.05);
    });
  });

  /** Level at every sample after the curve's transfer, which is written out here a second time: 1 at 1 kHz. The negative frequencies are left out. */
  function playedBack(samples: Float64Array): Float64Array {
    const size = transformSize(2 * samples.length);
    const spectrum = spectrumOf(samples, size);
    const [re, im] = [new Float64Array(spectrum.length), new Float64Array(spectrum.length)];
    const reference = Math.hypot(...transfer(1000));
    for (let k = 0; k < spectrum.length; k += 2) {
      const [a, b] = transfer(((k / 2) * rate) / size).map((x) => x / reference) as [number, number];
      re[k] = a * spectrum[k]! - b * spectrum[k + 1]!;
      re[k + 1] = a * spectrum[k + 1]! + b * spectrum[k]!;
      // A quarter turn back: the part in quadrature.
      [im[k], im[k + 1]] = [re[k + 1]!, -re[k]!];
    }
    const [wave, quadrature] = [samplesOf(re), samplesOf(im)];
    return wave.map((x, n) => Math.hypot(x, quadrature[n]!));
  }

  function transfer(hz: number): [number, number] {
    const { T1, T2, T3 } = riaaTimes;
    const w = 2 * Math.PI * hz;
    const turn = Math.atan(w * T2) - Math.atan(w * T1) - Math.atan(w * T3);
    const size = Math.hypot(1, w * T2) / (Math.hypot(1, w * T1) * Math.hypot(1, w * T3));
    return [size * Math.cos(turn), size * Math.sin(turn)];
  }
});
