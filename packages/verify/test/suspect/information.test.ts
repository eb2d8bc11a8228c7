import { describe, expect, it } from 'vitest';
import { readingBits, trialBits } from '../../src/suspect/next/information.ts';

const bell = (label: string, weight: number, mean: number, sigma: number) => ({ label, weight, mean, sigma });

describe('what a reading is worth', () => {
  it('is one bit where it tells two equally likely suspects apart', () => {
    // The bells lie 100 σ apart: nothing of them overlaps.
    expect(readingBits([bell('R1', 0.5, 0, 0.1), bell('R2', 0.5, 10, 0.1)])).toBeCloseTo(1, 6);
  });

  it('is nothing where both show the same, and where one suspect shows two things', () => {
    expect(readingBits([bell('R1', 0.5, 3, 0.1), bell('R2', 0.5, 3, 0.1)])).toBeCloseTo(0, 9);
    expect(readingBits([bell('R1', 0.5, 0, 0.1), bell('R1', 0.5, 10, 0.1)])).toBeCloseTo(0, 9);
  });

  it('is what the overlap leaves, against a plain sum', () => {
    const density = (x: number, mean: number): number => Math.exp(-0.5 * (x - mean) ** 2) / Math.sqrt(2 * Math.PI);
    let right = 0;
    const step = 1e-3;
    for (let x = -10; x < 12; x += step) {
      const [a, b] = [0.5 * density(x, 0), 0.5 * density(x, 2)];
      if (a > 0) right += step * a * Math.log2((2 * a) / (a + b));
      if (b > 0) right += step * b * Math.log2((2 * b) / (a + b));
    }
    // Steps of half a σ and ends at 4 σ.
    expect(readingBits([bell('R1', 0.5, 0, 1), bell('R2', 0.5, 2, 1)])).toBeCloseTo(right, 2);
  });

  it('counts a bell that falls between two places of the line', () => {
    // 10⁶ σ from end to end, on a line of three thousand places.
    expect(readingBits([bell('R1', 0.5, 0.3, 1e-3), bell('R2', 0.5, 1000.1, 1e-3)])).toBeCloseTo(1, 6);
  });

  it('does not hang on how the weights are scaled', () => {
    const pair = (scale: number) => [bell('R1', 0.3 * scale, 0, 1), bell('R2', 0.7 * scale, 2, 1)];
    expect(readingBits(pair(1))).toBeCloseTo(readingBits(pair(1e-6)), 9);
  });
});

describe('what a trial is worth', () => {
  it('is one bit for a sure answer between two, none for a coin', () => {
    const between = (first: number, second: number) =>
      trialBits([
        { label: 'C1', weight: 0.5, chance: first },
        { label: 'C2', weight: 0.5, chance: second },
      ]);
    expect(between(1, 0)).toBeCloseTo(1, 12);
    expect(between(0.5, 0.5)).toBeCloseTo(0, 12);
    // 1 − H(0.95), H in bits: a channel that is wrong once in twenty.
    expect(between(0.95, 0.05)).toBeCloseTo(1 + 0.95 * Math.log2(0.95) + 0.05 * Math.log2(0.05), 12);
  });
});
