import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Series, nearestPreferred, preferredAbove, preferredBelow, preferredValues } from '../src/index.ts';

const all: readonly Series[] = ['E3', 'E6', 'E12', 'E24', 'E48', 'E96', 'E192'];
const published = JSON.parse(
  readFileSync(new URL('../../../fixtures/iec-60063.json', import.meta.url), 'utf8'),
) as Readonly<Record<Series, readonly number[]>>;

describe('series of IEC 60063', () => {
  test.each(all)('%s as published', (series) => {
    expect(preferredValues(series)).toEqual(published[series]);
    expect(preferredValues(series)).toHaveLength(Number(series.slice(1)));
  });

  test('E96 follows its formula, and E192 but for 920', () => {
    const formula = (count: number): number[] =>
      Array.from({ length: count }, (_, n) => Math.round(100 * 10 ** (n / count)));
    expect(preferredValues('E96')).toEqual(formula(96));
    // The exception is from memory.
    expect(preferredValues('E192').filter((value, n) => value !== formula(192)[n])).toEqual([920]);
  });

  test('E24 is not part of E96', () => {
    expect(preferredValues('E24').every((value) => preferredValues('E96').includes(value * 10))).toBe(false);
  });
});

describe('neighbours', () => {
  test.each<[number, Series, number, number, number]>([
    [4.8e-6, 'E12', 4.7e-6, 5.6e-6, 4.7e-6],
    [9.5, 'E24', 9.1, 10, 9.1],
    [9.6, 'E24', 9.1, 10, 10],
    [95e3, 'E3', 47e3, 100e3, 100e3],
    [919, 'E192', 909, 920, 920],
    // √(10·22) = 14.83: nearest in ratio, though 14.9 lies closer to 10 by difference.
    [14.9, 'E3', 10, 22, 22],
    [14.8, 'E3', 10, 22, 10],
  ])('%d in %s', (value, series, below, above, nearest) => {
    expect(preferredBelow(value, series)).toBe(below);
    expect(preferredAbove(value, series)).toBe(above);
    expect(nearestPreferred(value, series)).toBe(nearest);
  });

  test('a preferred value is its own neighbour, also with the rounding errors of a short computation', () => {
    fc.assert(
      fc.property(fc.constantFrom(...all), fc.nat(), fc.integer({ min: -13, max: 10 }), (series, pick, power) => {
        const values = preferredValues(series);
        const exact = Number(`${values[pick % values.length]}e${power}`);
        for (const value of [exact, exact * (1 + 4 * Number.EPSILON), exact * (1 - 4 * Number.EPSILON)]) {
          expect(preferredBelow(value, series)).toBe(exact);
          expect(preferredAbove(value, series)).toBe(exact);
          expect(nearestPreferred(value, series)).toBe(exact);
        }
      }),
      { seed: 20261125, numRuns: 1000 },
    );
  });

  test('no preferred value lies between the neighbours', () => {
    const value = fc.double({ min: 1e-12, max: 1e9, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(...all), value, (series, given) => {
        const below = preferredBelow(given, series);
        const above = preferredAbove(given, series);
        // The rounding error up to which a value counts as preferred itself.
        expect(below).toBeLessThanOrEqual(given * (1 + 1e-13));
        expect(above).toBeGreaterThanOrEqual(given * (1 - 1e-13));
        if (below !== above) {
          expect(preferredAbove(below * (1 + 1e-9), series)).toBe(above);
          expect(preferredBelow(above * (1 - 1e-9), series)).toBe(below);
        }
      }),
      { seed: 20261125, numRuns: 1000 },
    );
  });

  test.each([0, -1, NaN, Infinity])('%d has none', (value) => {
    expect(() => preferredAbove(value, 'E12')).toThrow(RangeError);
  });
});
