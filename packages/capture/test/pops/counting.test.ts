import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countBounds, rateChange } from '../../src/pops/counting.ts';

describe('bounds of a count', () => {
  // Half of chi2.ppf(0.05, 2n) and chi2.ppf(0.95, 2n + 2), SciPy 1.17.1; the upper ones are N. Gehrels' table for 95 % (1986; from memory).
  it.each([
    [0, 0, 2.99573227],
    [1, 0.05129329, 4.74386452],
    [2, 0.35536151, 6.29579362],
    [3, 0.81769145, 7.75365653],
    [10, 5.4254057, 16.96221924],
    [100, 84.13927722, 118.07927278],
    [36_000, 35_688.480515, 36_313.660847],
  ])('of %i lie where chi-square puts them', (count, low, high) => {
    const bounds = countBounds(count);
    // The sources' own last digit.
    expect(bounds.low).toBeCloseTo(low, count > 1000 ? 5 : 7);
    expect(bounds.high).toBeCloseTo(high, count > 1000 ? 5 : 7);
  });

  it('say of none in 20 minutes: below 0.15 per minute', () => {
    expect((countBounds(0).high / 20).toFixed(2)).toBe('0.15');
  });
});

describe('a change of rate', () => {
  it('has the chance and the ratio of the conditional test', () => {
    // 11 in 800 against 21 in 3011: ratio 1.971488, p 0.07967 (example in the manual of poisson.test; p from memory); bounds by beta.ppf(0.05, …), SciPy 1.17.1.
    const { ratio, bounds, chance } = rateChange({ count: 21, minutes: 3011 }, { count: 11, minutes: 800 });
    expect(ratio).toBeCloseTo(1.971488, 6);
    expect(chance).toBeCloseTo(0.0796686330333, 12);
    expect(bounds.low).toBeCloseTo(0.9775843474967, 10);
    expect(bounds.high).toBeCloseTo(3.827386407850879, 10);
  });

  it('is told of none after, and of none at all', () => {
    const none = rateChange({ count: 24, minutes: 20 }, { count: 0, minutes: 20 });
    // Both tails of 24 coins: 2·2⁻²⁴.
    expect(none.chance).toBeCloseTo(2 ** -23, 20);
    expect(none.bounds.low).toBe(0);
    // (1 − 0.05^(1/24)) against the rest.
    const share = 1 - 0.05 ** (1 / 24);
    expect(none.bounds.high).toBeCloseTo(share / (1 - share), 12);
    const silent = rateChange({ count: 0, minutes: 5 }, { count: 0, minutes: 50 });
    expect(silent).toEqual({ ratio: null, bounds: { low: 0, high: Infinity }, chance: 1 });
  });

  it('reads backwards as the inverse ratio with the same chance', () => {
    const counted = fc.record({
      count: fc.integer({ min: 0, max: 60 }),
      minutes: fc.double({ min: 0.5, max: 60, noNaN: true }),
    });
    fc.assert(
      fc.property(counted, counted, (before, after) => {
        const [forth, back] = [rateChange(before, after), rateChange(after, before)];
        // Outcomes that are as likely by rounding only may fall on either side.
        expect(Math.abs(forth.chance - back.chance)).toBeLessThan(1e-6);
        if (before.count > 0) expect(forth.bounds.high * back.bounds.low).toBeCloseTo(1, 8);
        if (before.count > 0 && after.count > 0) expect(forth.ratio! * back.ratio!).toBeCloseTo(1, 12);
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });
});
