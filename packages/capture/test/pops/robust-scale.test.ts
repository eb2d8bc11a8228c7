import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nthSmallest, robustScale } from '../../src/pops/robust-scale.ts';
import { gaussian } from './silence.ts';

describe('the robust scale', () => {
  it('is the standard deviation of normal noise', () => {
    const scale = robustScale(40_000)(Float64Array.from({ length: 40_000 }, gaussian(1)));
    // Relative standard error 1.17/√n = 0.6 %; three of them.
    expect(Math.abs(scale - 1)).toBeLessThan(0.018);
  });

  it('hardly minds a fifth of wild values', () => {
    const next = gaussian(2);
    const values = Float64Array.from({ length: 40_000 }, (_, n) => (n % 5 === 0 ? 1e6 : next()));
    // The median of the whole is then at 0.625 of the noise: Φ⁻¹(0.8125)/Φ⁻¹(0.75) = 1.315.
    expect(robustScale(40_000)(values)).toBeCloseTo(1.315, 1);
  });

  it('picks what sorting would put there', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -5, max: 5 }), { minLength: 1, maxLength: 60 }), fc.nat(), (values, n) => {
        const rank = n % values.length;
        const sorted = values.toSorted((a, b) => a - b);
        expect(nthSmallest(Float64Array.from(values), values.length, rank)).toBe(sorted[rank]);
      }),
      { seed: 20261125, numRuns: 500 },
    );
  });
});
