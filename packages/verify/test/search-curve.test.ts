import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstFallThrough, furthestPoint, highestPoint } from '../src/search-curve.ts';

/** dB of a second-order high-pass with its pole pair at f0. */
const highPass =
  (f0: number, q: number) =>
  (hz: number): number => {
    const r = f0 / hz;
    return -10 * Math.log10((1 - r ** 2) ** 2 + (r / q) ** 2);
  };

/** dB of a first-order low-pass. */
const lowPass =
  (corner: number) =>
  (hz: number): number =>
    -10 * Math.log10(1 + (hz / corner) ** 2);

describe('highestPoint', () => {
  it('finds the peak of a resonance where its closed form has it', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 3, max: 80, noNaN: true }),
        fc.double({ min: 0.9, max: 8, noNaN: true }),
        (f0, q) => {
          const peak = highestPoint(highPass(f0, q), 1, 1000);
          // |H| is largest at f0 / √(1 − 1/2Q²), where it is Q / √(1 − 1/4Q²).
          expect(Math.abs(peak.hz / (f0 / Math.sqrt(1 - 1 / (2 * q ** 2))) - 1)).toBeLessThan(1e-4);
          // The frequency is off by 1e-4 at most, and the level falls from its peak with the square of that times some 4Q².
          expect(peak.db).toBeCloseTo(20 * Math.log10(q / Math.sqrt(1 - 1 / (4 * q ** 2))), 4);
        },
      ),
      { seed: 20261125, numRuns: 300 },
    );
  });

  it('takes the higher of two peaks', () => {
    const two = (hz: number): number => Math.max(highPass(5, 2)(hz) - 20, lowPass(40)(hz) + highPass(40, 3)(hz));
    expect(highestPoint(two, 1, 1000).hz).toBeGreaterThan(30);
  });

  it('gives the end of the band where the curve goes on rising, exactly', () => {
    expect(highestPoint(Math.log, 20, 300)).toEqual({ hz: 300, db: Math.log(300) });
    expect(highestPoint((hz) => -hz, 20, 300)).toEqual({ hz: 20, db: -20 });
  });

  it('finds a peak that lies closer to an end of the band than the grid is wide', () => {
    for (const [f0, from, to] of [
      [9.6, 10, 30],
      [9.2, 2, 10],
    ] as const) {
      const expected = f0 / Math.sqrt(1 - 1 / 8);
      expect(Math.abs(highestPoint(highPass(f0, 2), from, to).hz / expected - 1)).toBeLessThan(1e-4);
    }
  });

  it('does not take rounding for a peak: a flat curve is highest at its lower end', () => {
    expect(highestPoint((hz) => 1e-13 * Math.sin(hz), 30, 15_000).hz).toBe(30);
  });
});

describe('furthestPoint', () => {
  it('keeps the sign of the point furthest from 0 dB', () => {
    const dip = (hz: number): number => 0.5 - highPass(10, 3)(hz);
    const { hz, db } = furthestPoint(dip, 8, 100);
    expect(hz).toBeCloseTo(10 / Math.sqrt(1 - 1 / 18), 2);
    expect(db).toBeCloseTo(0.5 - 20 * Math.log10(3 / Math.sqrt(1 - 1 / 36)), 5);
  });
});

describe('firstFallThrough', () => {
  it('finds where a first-order curve falls through a level', () => {
    // 10 log(1 + (f/fc)²) = 3 at f = fc √(10^0.3 − 1); bisection ends within 1e-6 of the frequency.
    const expected = 500 * Math.sqrt(10 ** 0.3 - 1);
    expect(firstFallThrough(lowPass(500), -3, 10, 10_000)! / expected).toBeCloseTo(1, 5);
  });

  it('walks downwards too', () => {
    const expected = 20 / Math.sqrt(10 ** 0.3 - 1);
    const rising = (hz: number): number => lowPass(1)(20 / hz);
    expect(firstFallThrough(rising, -3, 1000, 2)! / expected).toBeCloseTo(1, 5);
  });

  it('gives the first fall on the way, not the last', () => {
    const wave = (hz: number): number => 4 * Math.cos(2 * Math.PI * Math.log10(hz));
    // From 1 Hz on it falls through 0 a quarter of a decade later, and again a decade after that.
    expect(firstFallThrough(wave, 0, 1, 1000)!).toBeCloseTo(10 ** 0.25, 4);
    expect(firstFallThrough(wave, 0, 1000, 1)!).toBeCloseTo(10 ** 2.75, 2);
  });

  it('is null where the curve never falls so far, and where it starts below and only rises', () => {
    expect(firstFallThrough(lowPass(500), -3, 10, 100)).toBeNull();
    expect(firstFallThrough((hz) => Math.log10(hz) - 9, -3, 10, 1000)).toBeNull();
  });
});
