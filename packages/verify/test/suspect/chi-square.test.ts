import { describe, expect, it } from 'vitest';
import { chiSquareTail } from '../../src/suspect/chi-square.ts';

describe('the tail of χ²', () => {
  // Abramowitz & Stegun, Handbook of Mathematical Functions, table 26.8 (from memory).
  it.each([
    [3.841, 1, 0.05],
    [18.307, 10, 0.05],
    [23.209, 10, 0.01],
    [29.588, 10, 0.001],
    [43.773, 30, 0.05],
    [59.703, 30, 0.001],
    [67.505, 50, 0.05],
  ])('%d with %i degrees of freedom: %d', (square, degrees, tail) => {
    // The approximation is good to some percent of the tail, and the tail is asked for its order of magnitude.
    expect(Math.abs(chiSquareTail(square, degrees) / tail - 1)).toBeLessThan(0.1);
  });

  it('is all or nothing without a degree of freedom', () => {
    expect(chiSquareTail(0, 0)).toBe(1);
    expect(chiSquareTail(1, 0)).toBe(0);
  });
});
