import { withFigures, type Limits, type MeasuredPiece } from '@curvewright/board';
import type { Stage } from '../stage.ts';
import { within, type Steps } from '../steps.ts';
import { channelDifference } from './channel-difference.ts';
import { movesAlone } from './alone-moves.ts';
import type { MatchPlace } from './match-place.ts';
import { nearestSelections, type NearPair, type Selection } from './nearest-selections.ts';
import { anyDifference, toldDifference, type Difference } from './told-difference.ts';

/** The pieces of a bag with which the channels of a stage are most alike. */
export interface MatchAnswer {
  readonly channels: readonly [string, string];
  /** Designators, in the order of the pieces of a set. */
  readonly refs: readonly string[];
  /** With what stands there now. */
  readonly before: Difference;
  /** Best first; of the same pieces the better way round only. */
  readonly sets: readonly MatchedSet[];
  /** What any choice of these pieces differs by at most. */
  readonly any: { readonly differenceDb: number; readonly biasMv: number };
  /** Whether the curve asks for sorting: some choice would take up more than a tenth of what the balance limit allows. */
  readonly worthSorting: boolean;
  /** Pieces with which the stage has no bias. */
  readonly leftOut: readonly string[];
  readonly search: MatchSearch;
}

/** How far the answer is exact. */
export interface MatchSearch {
  readonly pieces: number;
  /** Ways to choose and to place them. */
  readonly ways: number;
  /** Those that were solved as they would stand. */
  readonly solved: number;
  /** dB by which the sum of what each piece does alone missed them at most. */
  readonly missDb: number;
  /** No way that was not solved comes near those listed. */
  readonly complete: boolean;
}

export interface MatchedSet extends Difference {
  readonly pieces: readonly { readonly ref: string; readonly piece: string }[];
}

/** Sets that are listed, and ways that are solved at most: a second's work on a stage of forty parts. */
const [listed, mostSolved] = [10, 400];

/** A way that was not solved counts as beaten where it lies further off than so many times the largest miss seen. */
const caution = 4;

/** Of the balance limit: a difference that is nothing to sort for. */
const negligible = 0.1;

/** Pieces for one place (a pair) or for two places that share a bag (a four), each simulated in place. */
export function* matchSteps(
  stage: Stage,
  limits: Limits,
  places: readonly MatchPlace[],
  pieces: readonly MeasuredPiece[],
): Steps<MatchAnswer> {
  const difference = channelDifference(stage, limits);
  const base = difference.of([]) ?? new Float64Array(0);
  const alone = yield* within(0, 0.6, movesAlone(difference, base, places, pieces));
  const usable = pieces.flatMap((_, index) => (alone.some((move) => move.by[index] === null) ? [] : [index]));
  const { weights } = difference;
  const choices = selections(usable, places.length);
  const side = (which: 0 | 1): readonly Selection[] =>
    choices.map((chosen) => {
      const numbers = which === 0 ? base.map((value, k) => value * weights[k]!) : new Float64Array(base.length);
      const sign = which === 0 ? 1 : -1;
      chosen.forEach((piece, place) => {
        const move = alone.find((each) => each.place === place && each.side === which)?.by[piece];
        if (move) for (let k = 0; k < numbers.length; k++) numbers[k] = numbers[k]! + sign * move[k]! * weights[k]!;
      });
      return { pieces: chosen, numbers };
    });
  const [firsts, lasts] = [side(0), side(1)];
  const near = nearestSelections(firsts, lasts, mostSolved);
  yield 0.7;

  const refs = places.flatMap(({ parts: [first, last] }) => [first.ref, last.ref]);
  const solve = (pair: NearPair): Float64Array | null => {
    const parts = pieceOrder(pair).map((piece, k) =>
      withFigures(places[k >> 1]!.parts[k % 2]!, pieces[piece]!.figures),
    );
    return difference.of(parts);
  };
  const ways = waysOf(usable.length, refs.length);
  const solved: SolvedWay[] = [];
  let miss = 0;
  let complete = ways <= mostSolved;
  for (const [n, pair] of near.entries()) {
    if (ways > mostSolved && pair.apart - caution * miss > listedReach(solved)) {
      complete = true;
      break;
    }
    const exact = solve(pair);
    if (exact === null) continue;
    const apart = furthest(exact, weights);
    miss = Math.max(miss, Math.abs(apart - pair.apart));
    const named = pieceOrder(pair).map((piece, k) => ({ ref: refs[k]!, piece: pieces[piece]!.piece }));
    solved.push({ set: { pieces: named, ...toldDifference(exact, difference) }, apart });
    if (n % 20 === 19) yield 0.7 + (0.3 * n) / near.length;
  }
  const { widest, differenceDb, biasMv } = anyDifference(firsts, lasts, difference);
  const furthestApart = widest === null ? null : solve(widest);
  const anyDb = Math.max(
    differenceDb,
    Math.abs(furthestApart === null ? 0 : toldDifference(furthestApart, difference).differenceDb),
  );
  const { channels } = stage.circuit;
  return {
    channels: [channels[0]?.name ?? '', channels.at(-1)?.name ?? ''],
    refs,
    before: toldDifference(base, difference),
    sets: oncePerSet(solved)
      .slice(0, listed)
      .map(({ set }) => set),
    any: { differenceDb: anyDb, biasMv },
    worthSorting: anyDb > negligible * limits.balance.good,
    leftOut: pieces.flatMap(({ piece }, index) => (usable.includes(index) ? [] : [piece])),
    search: { pieces: usable.length, ways, solved: solved.length, missDb: miss, complete },
  };
}

/** A way that was solved as it would stand, and how far its channels are apart. */
interface SolvedWay {
  readonly set: MatchedSet;
  readonly apart: number;
}

/** Ordered choices of so many different pieces. */
function selections(pieces: readonly number[], count: number): readonly (readonly number[])[] {
  if (count === 0) return [[]];
  return selections(pieces, count - 1).flatMap((chosen) =>
    pieces.filter((piece) => !chosen.includes(piece)).map((piece) => [...chosen, piece]),
  );
}

function waysOf(pieces: number, count: number): number {
  return Array.from({ length: count }, (_, n) => Math.max(0, pieces - n)).reduce((product, left) => product * left, 1);
}

/** First and last channel of each place in turn, as the designators stand. */
function pieceOrder({ first, last }: NearPair): readonly number[] {
  return first.pieces.flatMap((piece, place) => [piece, last.pieces[place]!]);
}

function furthest(numbers: Float64Array, weights: Float64Array): number {
  return numbers.reduce((most, value, k) => Math.max(most, Math.abs(value) * weights[k]!), 0);
}

/** How far off the last of those stands that would be listed now; Infinity while there are not so many. */
function listedReach(solved: readonly SolvedWay[]): number {
  return (solved.length < listed ? undefined : oncePerSet(solved)[listed - 1]?.apart) ?? Infinity;
}

function oncePerSet(solved: readonly SolvedWay[]): readonly SolvedWay[] {
  const seen = new Set<string>();
  return solved
    .toSorted((a, b) => a.apart - b.apart)
    .filter(({ set }) => {
      const key = JSON.stringify(set.pieces.map(({ piece }) => piece).sort());
      return seen.has(key) ? false : seen.add(key);
    });
}
