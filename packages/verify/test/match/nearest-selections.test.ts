import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestSelections, type Selection } from '../../src/match/nearest-selections.ts';

const numbers = fc.double({ min: -1, max: 1, noNaN: true });
const bag = fc.integer({ min: 2, max: 9 }).chain((pieces) =>
  fc.record({
    firsts: fc.array(fc.tuple(numbers, numbers, numbers), { minLength: pieces, maxLength: pieces }),
    lasts: fc.array(fc.tuple(numbers, numbers, numbers), { minLength: pieces, maxLength: pieces }),
    most: fc.integer({ min: 1, max: 12 }),
  }),
);

const selections = (rows: readonly (readonly number[])[]): readonly Selection[] =>
  rows.map((row, piece) => ({ pieces: [piece], numbers: Float64Array.from(row) }));

describe('nearestSelections', () => {
  it('finds what comparing all with all finds', () => {
    fc.assert(
      fc.property(bag, ({ firsts, lasts, most }) => {
        const all = firsts.flatMap((a, i) =>
          lasts.flatMap((b, j) => (i === j ? [] : [Math.max(...a.map((value, k) => Math.abs(value - b[k]!)))])),
        );
        const found = nearestSelections(selections(firsts), selections(lasts), most);
        // The same differences of the same numbers: not a rounding apart.
        expect(found.map(({ apart }) => apart)).toEqual(all.sort((a, b) => a - b).slice(0, most));
        for (const { first, last } of found) expect(first.pieces).not.toEqual(last.pieces);
      }),
      { seed: 20261125, numRuns: 500 },
    );
  });

  it('takes no piece twice', () => {
    const two = (pieces: readonly number[], value: number): Selection => ({
      pieces,
      numbers: Float64Array.of(value),
    });
    const found = nearestSelections([two([0, 1], 0)], [two([1, 2], 0), two([2, 3], 5)], 9);
    expect(found.map(({ last, apart }) => [last.pieces, apart])).toEqual([[[2, 3], 5]]);
  });

  it('finds nothing among nothing', () => {
    expect(nearestSelections([], [], 3)).toEqual([]);
  });
});
