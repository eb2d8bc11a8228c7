import fc from 'fast-check';
import { expect, test } from 'vitest';
import { logFrequencies } from '../src/index.ts';

test('three decades at ten to the decade are 31 frequencies with both ends exact', () => {
  const grid = logFrequencies(20, 20000, 10);
  expect(grid).toHaveLength(31);
  expect(grid[0]).toBe(20);
  expect(grid[30]).toBe(20000);
  // One power and one product: a few units in the last place.
  expect(Math.abs((grid[10] ?? NaN) / 200 - 1)).toBeLessThanOrEqual(1e-15);
});

test('equal ends give one frequency, a part of a step gives both ends', () => {
  expect([...logFrequencies(1000, 1000, 24)]).toEqual([1000]);
  expect([...logFrequencies(1000, 1001, 24)]).toEqual([1000, 1001]);
});

test('steps are of one ratio, never wider than asked for', () => {
  const hz = fc.double({ min: 0.01, max: 1e6, noNaN: true });
  fc.assert(
    fc.property(hz, hz, fc.integer({ min: 1, max: 100 }), (a, b, perDecade) => {
      const grid = logFrequencies(Math.min(a, b), Math.max(a, b), perDecade);
      expect(grid[0]).toBe(Math.min(a, b));
      expect(grid.at(-1)).toBe(Math.max(a, b));
      const first = (grid[1] ?? NaN) / (grid[0] ?? NaN);
      for (let n = 1; n < grid.length; n++) {
        const ratio = (grid[n] ?? NaN) / (grid[n - 1] ?? NaN);
        expect(ratio).toBeGreaterThan(1);
        // Each frequency carries a few roundings of its own.
        expect(Math.abs(ratio / first - 1)).toBeLessThanOrEqual(1e-14);
        expect(Math.log10(ratio) * perDecade).toBeLessThanOrEqual(1 + 1e-8);
      }
    }),
    { seed: 20261125, numRuns: 200 },
  );
});

test.each([
  [0, 10, 1],
  [10, 1, 1],
  [1, Infinity, 1],
  [1, 10, 0],
  [NaN, 10, 1],
])('refuses %d to %d Hz at %d to the decade', (from, to, perDecade) => {
  expect(() => logFrequencies(from, to, perDecade)).toThrow(RangeError);
});
