import { describe, expect, it } from 'vitest';
import { reachOf, sigmaOf } from '../../src/spread/bands.ts';

describe('reachOf', () => {
  it('reads quantiles between the ordered numbers, in whatever order they come', () => {
    const numbers = Float32Array.from({ length: 101 }, (_, n) => (n * 37) % 101);
    expect(reachOf(numbers)).toEqual({ low: 5, median: 50, high: 95, worstLow: 0, worstHigh: 100 });
    expect(reachOf(Float32Array.of(1, 2)).median).toBe(1.5);
    expect(reachOf(Float32Array.of(3))).toEqual({ low: 3, median: 3, high: 3, worstLow: 3, worstHigh: 3 });
  });

  it('leaves out what is no number', () => {
    expect(reachOf(Float32Array.of(NaN, 4, NaN, 2, 3))).toMatchObject({ median: 3, worstLow: 2, worstHigh: 4 });
    expect(reachOf(Float32Array.of(NaN)).median).toBeNaN();
    expect(reachOf(new Float32Array(0)).median).toBeNaN();
  });
});

describe('sigmaOf', () => {
  it('is the standard deviation of a sample', () => {
    expect(sigmaOf(Float32Array.of(2, 4, 4, 4, 5, 5, 7, 9))).toBeCloseTo(Math.sqrt(32 / 7), 12);
  });
});
