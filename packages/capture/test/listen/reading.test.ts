import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bandPower, powerDensity } from '../../src/spectrum/welch.ts';
import { samplesOf, spectrumOf } from '../../src/spectrum/fourier.ts';
import { bridgeMains } from '../../src/listen/bridge-mains.ts';
import { findMarker } from '../../src/listen/find-marker.ts';
import { humLines } from '../../src/listen/hum-lines.ts';
import { fitted, localFit } from '../../src/listen/local-fit.ts';
import { onPlayerClock } from '../../src/listen/player-clock.ts';
import { tableReader } from '../../src/listen/response-table.ts';
import { renderSegment } from '../../src/index.ts';
import { normalNumbers, shortPlan } from './made-recording.ts';

const rate = 48_000;
const sine = (hz: number, length: number, amplitude = 1): Float64Array =>
  Float64Array.from({ length }, (_, n) => amplitude * Math.sin((2 * Math.PI * hz * n) / rate));

describe('spectra', () => {
  it('turn back into their samples', () => {
    const samples = Float64Array.from({ length: 100 }, normalNumbers(1));
    const back = samplesOf(spectrumOf(samples, 128));
    // Rounding of log2(128) = 7 stages.
    samples.forEach((x, n) => {
      expect(Math.abs(back[n]! - x)).toBeLessThan(1e-13);
    });
  });

  it('hold a sine of amplitude 1 with a power of a half, and white noise with its variance over the bandwidth', () => {
    const density = powerDensity(sine(1000.3, rate), rate, 4096)!;
    // The Hann window's skirts beyond 100 Hz hold less than 1e-6 of a line.
    expect(bandPower(density, 900, 1100)).toBeCloseTo(0.5, 5);
    const normal = normalNumbers(2);
    const noise = powerDensity(Float64Array.from({ length: 20 * rate }, normal), rate, 4096)!;
    // 1.9 million samples: a standard deviation of 0.1 %.
    expect(bandPower(noise, 0, rate / 2)).toBeGreaterThan(0.995);
    expect(bandPower(noise, 0, rate / 2)).toBeLessThan(1.005);
  });
});

describe('the local fit', () => {
  it('leaves parabolas as they are, in the middle of a band and at its end', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 100, max: 20_000, noNaN: true }),
        fc.tuple(fc.double({ min: -1, max: 1 }), fc.double({ min: -1, max: 1 }), fc.double({ min: -1, max: 1 })),
        (hz, [a, b, c]) => {
          fc.pre([a, b, c].every(Number.isFinite));
          const value = (f: number): number => a + b * (f / 1e4) + c * (f / 1e4) ** 2;
          const spectrum = new Float64Array(2 * 8193);
          for (let k = 0; k <= 8192; k++) spectrum.set([value(k * 3), -value(k * 3)], 2 * k);
          const fit = localFit(hz, 3, 1 / 8, 50, 20_000)!;
          const [re, im] = fitted(fit, spectrum);
          // A 3 × 3 system of moments between 1 and 0.1, on values up to 7: far below any reading.
          expect(Math.abs(re - value(hz))).toBeLessThan(1e-9);
          expect(im).toBeCloseTo(-re, 12);
        },
      ),
      { seed: 20261125, numRuns: 60 },
    );
  });

  it('is none outside the band', () => {
    expect(localFit(30_000, 3, 1 / 8, 50, 20_000)).toBeNull();
  });
});

describe("the player's clock", () => {
  it.each([1.00008, 0.99992, 48 / 44.1, 2.0])('reads a sine at %d samples a step', (step) => {
    const hz = 0.4 * Math.min(rate, rate / step);
    const out = onPlayerClock(sine(hz, 6000), { from: 1000.3, step, length: 1000 });
    out.forEach((x, n) => {
      const want = Math.sin((2 * Math.PI * hz * (1000.3 + n * step)) / rate);
      // Kaiser's window of β 8: ripples 80 dB down.
      expect(Math.abs(x - want)).toBeLessThan(2e-4);
    });
  });
});

describe('markers', () => {
  const [start, end] = [shortPlan().segments[0]!, shortPlan().segments.at(-1)!];
  const [rising, falling] = [start, end].map((segment) =>
    renderSegment(segment, { rate, shaping: 'flat', levelDbfs: 0 }),
  );

  it('are found to a hundredth of a sample, 20 dB under noise in its whole band', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20_000, max: 30_000, noNaN: true }),
        fc.integer({ min: 1, max: 1e6 }),
        (place, seed) => {
          const normal = normalNumbers(seed);
          const late = onPlayerClock(rising!, { from: -place, step: 1, length: 80_000 });
          const loud = findMarker(
            late.map((x) => x + 1e-4 * normal()),
            rising!,
          )!;
          expect(Math.abs(loud.sample - place)).toBeLessThan(0.01);
          expect(loud.likeness).toBeGreaterThan(0.99);
          // An energy over noise of 24 000/2/50: the envelope's place then spreads by 1/(2π · 870 Hz · √(2 · 240)) = 0.4 samples; five times that.
          const faint = findMarker(
            late.map((x) => x + 7 * normal()),
            rising!,
          );
          if (faint !== null) expect(Math.abs(faint.sample - place)).toBeLessThan(2);
        },
      ),
      { seed: 20261125, numRuns: 8 },
    );
  });

  it('are told apart, and not seen in noise, a tone or a sweep', () => {
    const normal = normalNumbers(9);
    expect(findMarker(Float64Array.from({ length: 200_000 }, normal), rising!)).toBeNull();
    expect(findMarker(sine(2000, 200_000), rising!)).toBeNull();
    expect(findMarker(onPlayerClock(rising!, { from: -9000, step: 1, length: 60_000 }), falling!)).toBeNull();
    const sweep = shortPlan().segments.find(({ kind }) => kind === 'sweep')!;
    expect(findMarker(renderSegment(sweep, { rate, shaping: 'flat', levelDbfs: 0 }), rising!)).toBeNull();
  });
});

describe('hum', () => {
  it('is found with its level, at the mains as it is', () => {
    const normal = normalNumbers(4);
    const hum = sine(50.03, 5 * rate, 0.01).map(
      (x, n) => x + 0.002 * Math.sin((2 * Math.PI * 150.09 * n) / rate) + 1e-4 * normal(),
    );
    const lines = humLines(hum, rate);
    expect(lines.map(({ mains, multiple }) => [mains, multiple])).toEqual([
      [50, 1],
      [50, 3],
    ]);
    // Noise 40 dB and more below, and a line between bins: 0.1 dB.
    expect(10 * Math.log10(lines[0]!.power / (0.01 ** 2 / 2))).toBeCloseTo(0, 1);
    expect(10 * Math.log10(lines[1]!.power / (0.002 ** 2 / 2))).toBeCloseTo(0, 1);
    expect(lines[0]!.hz).toBeCloseTo(50.03, 1);
  });

  it('is not found in noise', () => {
    expect(humLines(Float64Array.from({ length: 5 * rate }, normalNumbers(5)), rate)).toEqual([]);
  });

  it('is bridged in a response, which without it stays as it is', () => {
    const normal = normalNumbers(6);
    const stepHz = 0.05;
    const smooth = new Float64Array(2 * 20_000);
    for (let k = 0; k < 20_000; k++) smooth.set([1 + 1e-3 * k * stepHz, 0.5], 2 * k);
    const noisy = smooth.map((x) => x + 1e-3 * normal());
    const clean = noisy.slice();
    bridgeMains(clean, stepHz, 20);
    expect(clean).toEqual(noisy);
    const hummed = noisy.slice();
    const line = Math.round(60.1 / stepHz);
    for (let k = line - 2; k <= line + 2; k++) hummed[2 * k] = hummed[2 * k]! + 0.3;
    bridgeMains(hummed, stepHz, 20);
    // Within the noise that was there.
    for (let k = line - 2; k <= line + 2; k++) expect(Math.abs(hummed[2 * k]! - smooth[2 * k]!)).toBeLessThan(3e-3);
  });
});

describe('a response table', () => {
  it('is read between its frequencies, and its phase over the turn', () => {
    const hz = Array.from({ length: 401 }, (_, n) => 10 ** (n / 100));
    const lag = (f: number): readonly [number, number] => {
      const angle = -2 * Math.PI * f * 1e-4;
      return [Math.cos(angle) / f, Math.sin(angle) / f];
    };
    const read = tableReader({ hz, re: hz.map((f) => lag(f)[0]), im: hz.map((f) => lag(f)[1]) });
    for (const f of [1, 3.3, 777, 9000]) {
      const [re, im] = read(f);
      // A straight level over log frequency is exact; a delay of 100 µs bends by 1e-4 of a turn between points a hundredth of a decade apart.
      expect(Math.hypot(re, im) * f).toBeCloseTo(1, 9);
      expect(Math.hypot(re - lag(f)[0], im - lag(f)[1]) * f).toBeLessThan(1e-3);
    }
  });
});
