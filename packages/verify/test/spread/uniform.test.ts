import { describe, expect, it } from 'vitest';
import { streamOf, threefry, uniform } from '../../src/spread/uniform.ts';

const boards = 10_000;
const draw = (seed: number, stream: number): readonly number[] =>
  Array.from({ length: boards }, (_, board) => uniform(seed, stream, board));

/** Largest distance of the draws' distribution from the even one (Kolmogorov). */
function distance(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return Math.max(...sorted.map((value, n) => Math.max(value - n / sorted.length, (n + 1) / sorted.length - value)));
}

function correlation(a: readonly number[], b: readonly number[]): number {
  const sum = a.reduce((total, value, n) => total + (value - 0.5) * (b[n]! - 0.5), 0);
  return (12 * sum) / a.length;
}

describe('threefry', () => {
  // The known answers that the authors publish with their library (from memory).
  it.each([
    [0, 0, 0, 0, 0x6b200159, 0x99ba4efe],
    [0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff, 0x1cb996fc, 0xbb002be7],
    [0x13198a2e, 0x03707344, 0x243f6a88, 0x85a308d3, 0xc4923a9c, 0x483df7a0],
  ])('key %i %i, counter %i %i', (k0, k1, c0, c1, first, second) => {
    const words = new Uint32Array(2);
    threefry(k0, k1, c0, c1, words);
    expect([...words]).toEqual([first, second]);
  });
});

describe('uniform', () => {
  const streams = ['R101 value', 'R102 value', 'Q101 hFE'].map(streamOf);

  // 2.2/√n: an even generator is further off once in ten thousand tries (Kolmogorov's distribution, 2·exp(−2·2.2²)).
  it.each([1, 2, 4_294_967_295])('is even over 0 to 1 in every stream, seed %i', (seed) => {
    for (const stream of streams) expect(distance(draw(seed, stream))).toBeLessThan(2.2 / Math.sqrt(boards));
  });

  // 4/√n: four standard errors of a correlation that is nought.
  it('does not tie one stream, seed or board to the next', () => {
    const [a, b] = [draw(1, streams[0]!), draw(1, streams[1]!)];
    const bound = 4 / Math.sqrt(boards);
    expect(Math.abs(correlation(a, b))).toBeLessThan(bound);
    expect(Math.abs(correlation(a, draw(2, streams[0]!)))).toBeLessThan(bound);
    expect(Math.abs(correlation(a.slice(1), a))).toBeLessThan(bound);
  });

  // The variance of an even draw is 1/12; that of its estimate 1/√(180 n) of a draw squared: 4 of them.
  it('has the spread of an even draw', () => {
    const variance = correlation(draw(7, streams[2]!), draw(7, streams[2]!)) / 12;
    expect(Math.abs(variance - 1 / 12)).toBeLessThan(4 / Math.sqrt(180 * boards));
  });

  it('depends on nothing but seed, stream and board', () => {
    const alone = uniform(5, streams[0]!, 777);
    draw(5, streams[0]!);
    expect(uniform(5, streams[0]!, 777)).toBe(alone);
  });
});
