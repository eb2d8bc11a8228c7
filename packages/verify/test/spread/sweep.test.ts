import { mergeLimits } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { highestPoint } from '../../src/search-curve.ts';
import { extreme, fallThrough, furthest, sweepOf } from '../../src/spread/sweep.ts';

const sweep = sweepOf(mergeLimits());
const curveOf = (db: (hz: number) => number): Float64Array => sweep.hz.map(db);

/** A resonance, dB. */
const bell =
  (f0: number, q: number) =>
  (hz: number): number =>
    -10 * Math.log10((1 - (hz / f0) ** 2) ** 2 + (hz / f0 / q) ** 2);

describe('the sweep of a spread', () => {
  it('holds every frequency that a limit names, and stays within the curve where none is further out', () => {
    for (const hz of [2, 10, 20, 30, 1000, 15_000, 20_000, 100_000]) expect(sweep.at(hz)).toBeGreaterThanOrEqual(0);
    expect([sweep.hz[0], sweep.hz.at(-1)]).toEqual([2, 100_000]);
    const wide = sweepOf(mergeLimits({ ultrasonic: { to: 300e3 }, bass: { at: 17 } }));
    expect(wide.hz.at(-1)).toBe(300e3);
    expect(wide.hz[wide.at(17)]).toBe(17);
  });

  // What the sweep promises, wherever the peak lies between two frequencies.
  it.each([14, 14.7, 15.3, 16, 22_000].flatMap((f0) => [[f0, 2, 0.02] as const, [f0, 4, 0.05] as const]))(
    'reads a peak at %f Hz of Q %i to %f dB',
    (f0, q, bound) => {
      const [from, to] = [f0 / 1.5, f0 * 1.5].map((hz) => sweep.hz.findIndex((each) => each > hz)) as [number, number];
      const exact = highestPoint(bell(f0, q), sweep.hz[from]!, sweep.hz[to]!).db;
      expect(Math.abs(extreme(curveOf(bell(f0, q)), sweep.logHz, from, to, 1) - exact)).toBeLessThan(bound);
    },
  );

  it('reads the end of a band where the curve is highest there', () => {
    const rising = curveOf(Math.log);
    expect(extreme(rising, sweep.logHz, 10, 20, 1)).toBe(rising[20]);
    expect(extreme(rising, sweep.logHz, 10, 20, -1)).toBe(rising[10]);
  });

  it('takes the side further from 0, with its sign', () => {
    const wave = curveOf((hz) => Math.sin(Math.log(hz)) - 0.5);
    expect(furthest(wave, sweep.logHz, 0, wave.length - 1)).toBeCloseTo(-1.5, 2);
  });

  it('finds where a curve falls through −3 dB, walking down and up, and NaN where it does not', () => {
    const edge = curveOf((hz) => -10 * Math.log10(1 + (12 / hz) ** 2) - 10 * Math.log10(1 + (hz / 40e3) ** 2));
    const [start, last] = [sweep.reference, sweep.hz.length - 1];
    // −3 dB is 10·log10(2) to 0.01 dB; straight lines over steps of 5 % cost some thousandths of the frequency.
    expect(fallThrough(edge, sweep, -3, start, 0) / 12).toBeCloseTo(1, 2);
    expect(fallThrough(edge, sweep, -3, start, last) / 40e3).toBeCloseTo(1, 2);
    expect(
      fallThrough(
        curveOf(() => 0),
        sweep,
        -3,
        start,
        0,
      ),
    ).toBeNaN();
  });
});
