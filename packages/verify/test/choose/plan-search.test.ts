import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isHeld, smallestPlan, type Option, type PlanProblem } from '../../src/choose/plan-search.ts';
import { reachBound } from '../../src/choose/reach-bound.ts';
import { stepwisePlan } from '../../src/choose/stepwise-plan.ts';
import { atOnce } from '../../src/steps.ts';

/** A change that moves some numbers, and costs something. */
interface Move extends Option {
  readonly moves: readonly number[];
  readonly price: number;
  readonly isSound: boolean;
}

interface Puzzle {
  readonly start: readonly number[];
  readonly options: readonly (readonly Move[])[];
  readonly held: ReadonlyMap<string, number>;
}

/** Two numbers that have to come within ±2. */
const span = [-2, 2] as const;

const stocks = ['A', 'B', 'C', 'D'];

const puzzles: fc.Arbitrary<Puzzle> = fc
  .record({
    start: fc.array(fc.integer({ min: -6, max: 6 }), { minLength: 2, maxLength: 2 }),
    places: fc.array(
      fc.array(
        fc.record({
          moves: fc.array(fc.integer({ min: -4, max: 4 }), { minLength: 2, maxLength: 2 }),
          price: fc.integer({ min: 0, max: 3 }),
          isSound: fc.constantFrom(true, true, true, false),
          stock: fc.constantFrom(...stocks),
          pieces: fc.integer({ min: 1, max: 2 }),
        }),
        { maxLength: 4 },
      ),
      { minLength: 1, maxLength: 5 },
    ),
    held: fc.array(fc.integer({ min: 0, max: 6 }), { minLength: 4, maxLength: 4 }),
  })
  .map(({ start, places, held }) => ({
    start,
    options: places.map((all, place) =>
      all.map(({ stock, pieces, ...rest }): Move => ({ ...rest, place, takes: [{ stock, pieces }] })),
    ),
    held: new Map(stocks.map((stock, n) => [stock, held[n]!] as const)),
  }));

const sumOf = ({ start }: Puzzle, chosen: readonly Move[]): readonly number[] =>
  start.map((number, n) => number + chosen.reduce((sum, { moves }) => sum + moves[n]!, 0));
const passes = (puzzle: Puzzle, chosen: readonly Move[]): boolean =>
  sumOf(puzzle, chosen).every((number) => number >= span[0] && number <= span[1]);
const priceOf = (chosen: readonly Move[]): number => chosen.reduce((sum, { price }) => sum + price, 0);
const isSound = (chosen: readonly Move[]): boolean => chosen.every((each) => each.isSound);

function problemOf(puzzle: Puzzle, most: number = 1e9): PlanProblem<Move> {
  const moves = (option: Move): Float32Array => Float32Array.from(option.moves);
  const bound = reachBound(
    Float32Array.from(puzzle.start),
    puzzle.start.map(() => span),
    puzzle.options.map((all) => all.map(moves)),
    0,
  );
  return {
    ...{ options: puzzle.options, held: puzzle.held, most },
    judge: (chosen) => passes(puzzle, chosen),
    compare: (a, b) => priceOf(a) - priceOf(b),
    accept: isSound,
    mayPass: (chosen, open) => bound.mayPass(chosen.map(moves), open),
  };
}

/** Every set of at most one option a place. */
function everySet(options: readonly (readonly Move[])[]): readonly (readonly Move[])[] {
  return options.reduce<readonly (readonly Move[])[]>(
    (sets, all) => sets.flatMap((set) => [set, ...all.map((option) => [...set, option])]),
    [[]],
  );
}

describe('the smallest plan', () => {
  it('is as small and as cheap as the best of all sets', () => {
    let [found, none] = [0, 0];
    fc.assert(
      fc.property(puzzles, (puzzle) => {
        const { chosen, exact, shownBelow } = atOnce(smallestPlan(problemOf(puzzle)));
        const passing = everySet(puzzle.options).filter(
          (set) => isHeld(set, puzzle.held) && passes(puzzle, set) && isSound(set),
        );
        expect(exact).toBe(true);
        if (passing.length === 0) {
          none += 1;
          expect(chosen).toBeNull();
          return;
        }
        found += 1;
        const smallest = Math.min(...passing.map(({ length }) => length));
        const cheapest = Math.min(...passing.filter(({ length }) => length === smallest).map(priceOf));
        expect(chosen).not.toBeNull();
        expect([chosen!.length, priceOf(chosen!), shownBelow]).toEqual([smallest, cheapest, smallest]);
        expect(isHeld(chosen!, puzzle.held) && passes(puzzle, chosen!) && isSound(chosen!)).toBe(true);
      }),
      { seed: 20261125, numRuns: 3000 },
    );
    console.log(`${found} puzzles with a plan, ${none} without`);
    expect(Math.min(found, none)).toBeGreaterThan(300);
  });

  it('says so where it is given up, and claims no more than was looked at', () => {
    let given = 0;
    fc.assert(
      fc.property(puzzles, fc.integer({ min: 1, max: 3000 }), (puzzle, most) => {
        const { chosen, exact, shownBelow } = atOnce(smallestPlan(problemOf(puzzle, most)));
        const sizes = everySet(puzzle.options)
          .filter((set) => isHeld(set, puzzle.held) && passes(puzzle, set) && isSound(set))
          .map(({ length }) => length);
        expect(Math.min(Infinity, ...sizes)).toBeGreaterThanOrEqual(shownBelow);
        if (!exact) given += 1;
        if (chosen !== null) expect(isSound(chosen) && passes(puzzle, chosen)).toBe(true);
      }),
      { seed: 20261125, numRuns: 2000 },
    );
    expect(given).toBeGreaterThan(300);
  });
});

it('a plan found step by step passes, and no change of it is needless', () => {
  let found = 0;
  fc.assert(
    fc.property(puzzles, (puzzle) => {
      const lacking = (chosen: readonly Move[]): number =>
        sumOf(puzzle, chosen).reduce((sum, number) => sum + Math.max(0, Math.abs(number) - 2), 0);
      const chosen = atOnce(stepwisePlan({ ...problemOf(puzzle), lacking }));
      if (chosen === null) return;
      found += 1;
      expect(isHeld(chosen, puzzle.held) && passes(puzzle, chosen) && isSound(chosen)).toBe(true);
      for (const each of chosen) {
        const fewer = chosen.filter((other) => other !== each);
        expect(passes(puzzle, fewer) && isSound(fewer)).toBe(false);
      }
    }),
    { seed: 20261125, numRuns: 2000 },
  );
  expect(found).toBeGreaterThan(300);
});

it('a change that later ones make needless is taken back', () => {
  // The first does most alone, the other two do all together.
  const moves = [
    [-3, -3],
    [-4, 0],
    [0, -4],
  ];
  const options = moves.map((each, place): readonly Move[] => [
    { place, moves: each, price: 0, isSound: true, takes: [{ stock: 'A', pieces: 1 }] },
  ]);
  const puzzle: Puzzle = { start: [6, 6], options, held: new Map() };
  const lacking = (chosen: readonly Move[]): number =>
    sumOf(puzzle, chosen).reduce((sum, number) => sum + Math.max(0, Math.abs(number) - 2), 0);
  const chosen = atOnce(stepwisePlan({ ...problemOf(puzzle), lacking }));
  expect(chosen?.map(({ place }) => place)).toEqual([1, 2]);
});

it('a bound without reserve never cuts what passes', () => {
  fc.assert(
    fc.property(puzzles, (puzzle) => {
      const { mayPass } = problemOf(puzzle);
      const open = puzzle.options.flatMap((all, place) => (all.length > 0 ? [place] : []));
      const full = everySet(puzzle.options).filter((set) => set.length === open.length);
      if (full.some((set) => passes(puzzle, set))) expect(mayPass([], open)).toBe(true);
      for (const set of full.filter((each) => passes(puzzle, each)).slice(0, 20))
        for (let n = 0; n <= set.length; n++) expect(mayPass(set.slice(0, n), open.slice(n))).toBe(true);
    }),
    { seed: 20261125, numRuns: 1000 },
  );
});
