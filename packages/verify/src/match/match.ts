import { withFigures, type Limits, type MeasuredPiece } from '@curvewright/board';
import type { Stage } from '../stage.ts';
import { within, type Steps } from '../steps.ts';
import { channelDifference, type ChannelDifference } from './channel-difference.ts';
import type { MatchPlace } from './match-place.ts';
import { nearestSelections, type NearPair, type Selection } from './nearest-selections.ts';

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

/** First channel against the last. */
export interface Difference {
  /** Largest over the balance limit's band; first over last. */
  readonly differenceDb: number;
  readonly hz: number;
  /** Largest of a node that both have, first less last. */
  readonly biasMv: number;
  /** Bare name; null where the channels have no node in common. */
  readonly node: string | null;
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
  const solved: { readonly set: MatchedSet; readonly apart: number }[] = [];
  let miss = 0;
  const ways = waysOf(usable.length, refs.length);
  let complete = ways <= mostSolved;
  for (const [n, pair] of near.entries()) {
    const reach = listedReach(solved);
    if (ways > mostSolved && pair.apart - caution * miss > reach) {
      complete = true;
      break;
    }
    const order = pieceOrder(pair);
    const exact = difference.of(placed(places, order.map((piece) => pieces[piece]!)));
    if (exact === null) continue;
    const apart = furthest(exact, weights);
    miss = Math.max(miss, Math.abs(apart - pair.apart));
    const named = order.map((piece, k) => ({ ref: refs[k]!, piece: pieces[piece]!.piece }));
    solved.push({ set: { pieces: named, ...told(exact, difference) }, apart });
    if (n % 20 === 19) yield 0.7 + (0.3 * n) / near.length;
  }
  const any = anyOf(firsts, lasts, difference);
  const channels = stage.circuit.channels;
  return {
    channels: [channels[0]?.name ?? '', channels.at(-1)?.name ?? ''],
    refs,
    before: told(base, difference),
    sets: oncePerSet(solved).slice(0, listed),
    any,
    worthSorting: any.differenceDb > negligible * limits.balance.good,
    leftOut: pieces.flatMap(({ piece }, index) => (usable.includes(index) ? [] : [piece])),
    search: { pieces: usable.length, ways, solved: solved.length, missDb: miss, complete },
  };
}

/** What each piece does alone, in the place of one channel. */
interface AloneMoves {
  readonly place: number;
  readonly side: 0 | 1;
  /** By piece; null without a bias. */
  readonly by: readonly (Float64Array | null)[];
}

function* movesAlone(
  difference: ChannelDifference,
  base: Float64Array,
  places: readonly MatchPlace[],
  pieces: readonly MeasuredPiece[],
): Steps<readonly AloneMoves[]> {
  const moves: AloneMoves[] = [];
  for (const [place, { parts }] of places.entries()) {
    for (const side of [0, 1] as const) {
      const by: (Float64Array | null)[] = [];
      for (const { figures } of pieces) {
        const there = difference.of([withFigures(parts[side], figures)]);
        by.push(there?.map((value, k) => value - base[k]!) ?? null);
        if (by.length % 20 === 0)
          yield (moves.length + by.length / pieces.length) / (2 * places.length);
      }
      moves.push({ place, side, by });
    }
  }
  return moves;
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

function placed(places: readonly MatchPlace[], pieces: readonly MeasuredPiece[]): ReturnType<typeof withFigures>[] {
  return places.flatMap(({ parts }, place) =>
    parts.map((part, side) => withFigures(part, pieces[2 * place + side]!.figures)),
  );
}

function furthest(numbers: Float64Array, weights: Float64Array): number {
  return numbers.reduce((most, value, k) => Math.max(most, Math.abs(value) * weights[k]!), 0);
}

/** How far off the last of those stands that would be listed now; Infinity while there are not so many. */
function listedReach(solved: Parameters<typeof oncePerSet>[0]): number {
  const sets = solved.length < listed ? [] : oncePerSet(solved);
  const last = sets.length < listed ? undefined : sets[listed - 1];
  return solved.find(({ set }) => set === last)?.apart ?? Infinity;
}

function oncePerSet(
  solved: readonly { readonly set: MatchedSet; readonly apart: number }[],
): readonly MatchedSet[] {
  const seen = new Set<string>();
  return solved
    .toSorted((a, b) => a.apart - b.apart)
    .flatMap(({ set }) => {
      const key = JSON.stringify(set.pieces.map(({ piece }) => piece).sort());
      return seen.has(key) ? [] : (seen.add(key), [set]);
    });
}

function told(numbers: Float64Array, { hz, nodes }: ChannelDifference): Difference {
  const level = furthestOf(numbers.subarray(0, hz.length));
  const bias = furthestOf(numbers.subarray(hz.length));
  return {
    differenceDb: numbers[level] ?? 0,
    hz: hz[level] ?? NaN,
    biasMv: 1000 * (numbers[hz.length + bias] ?? 0),
    node: nodes[bias] ?? null,
  };
}

function furthestOf(numbers: Float64Array): number {
  return numbers.reduce((at, value, k) => (Math.abs(value) > Math.abs(numbers[at]!) ? k : at), 0);
}

/** Number by number, whatever the pieces: no choice differs by more. */
function anyOf(
  firsts: readonly Selection[],
  lasts: readonly Selection[],
  { hz, weights }: ChannelDifference,
): MatchAnswer['any'] {
  let [differenceDb, biasMv] = [0, 0];
  for (let k = 0; k < weights.length; k++) {
    const [low, high] = spanOf(firsts, k);
    const [lowLast, highLast] = spanOf(lasts, k);
    const apart = Math.max(high - lowLast, highLast - low);
    if (k < hz.length) differenceDb = Math.max(differenceDb, apart);
    else biasMv = Math.max(biasMv, (1000 * apart) / weights[k]!);
  }
  return { differenceDb, biasMv };
}

function spanOf(selections: readonly Selection[], k: number): readonly [number, number] {
  let [low, high] = [Infinity, -Infinity];
  for (const { numbers } of selections) {
    low = Math.min(low, numbers[k]!);
    high = Math.max(high, numbers[k]!);
  }
  return [low, high];
}
