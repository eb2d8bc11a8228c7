import { describe, expect, it } from 'vitest';
import { slopesAtZero } from '../src/differences.ts';

describe('slopes by differences', () => {
  it('are those of smooth functions, steep ones too', () => {
    const slopes = slopesAtZero(
      (at, results) => {
        results.set([Math.exp(3 * at), 1 / (1 + at), 7 * at - 2, Math.exp(-500 * at), 4]);
      },
      5,
      0.01,
    );
    // Rounding: eps over the last step of 4e-5, a few times over. A second extrapolation of the wrong weight leaves 1e-10 of the steepest.
    [3, -1, 7, -500, 0].forEach((slope, i) => {
      expect(Math.abs(slopes[i]! - slope)).toBeLessThanOrEqual(2e-11 * Math.abs(slope));
    });
  });

  it('beside a kink are those of the side on which 0 lies', () => {
    for (const kink of [0.007, 0.0007, 0.00007]) {
      const [slope] = slopesAtZero((at, results) => results.set([at < kink ? 1 + at : 1 + 5 * at - 4 * kink]), 1, 0.01);
      // The step ends below the kink: eps over 7e-5 halved.
      expect(Math.abs(slope! - 1)).toBeLessThan(1e-10);
    }
  });
});
