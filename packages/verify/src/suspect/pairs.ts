import { predict, type Prediction } from './predict.ts';
import type { Catalogue } from './catalogue.ts';
import type { Entry } from './entry.ts';
import type { Steps } from '../steps.ts';
import type { Weigher } from './weigh.ts';

/** Two faults at once, each at a value, and how well both together explain the readings. */
export interface PairFit {
  /** Places among the catalogue's entries. */
  readonly entries: readonly [number, number];
  readonly values: readonly [number | null, number | null];
  readonly square: number;
  readonly logLikelihood: number;
  readonly prediction: Prediction;
}

/** Pairs that are solved, out of all that were put together by superposition. */
const solvedPairs = 24;

/** Turns in which one value is fitted while the other is held. */
const turns = 2;

interface Place {
  readonly entry: number;
  readonly run: number;
  readonly index: number;
}

/**
 * The pairs that explain the readings best. All pairs of cases are put together by superposition (each fault moves the readings from the healthy board by what
 * it does alone): exact for faults that do not meet, as in two channels; the best are then solved with both, and their values fitted in turns. Two faults that
 * change what the other does are found only where superposition points near them.
 */
export function* pairSteps(catalogue: Catalogue, weigher: Weigher, values: Float64Array): Steps<readonly PairFit[]> {
  const places: Place[] = [];
  const moves: Float64Array[] = [];
  catalogue.entries.forEach(({ runs }, entry) => {
    runs.forEach(({ predictions }, run) => {
      predictions.forEach((prediction, index) => {
        places.push({ entry, run, index });
        moves.push(weigher.moved(prediction));
      });
    });
  });
  const left = weigher.left(values);
  const own = moves.map((move) => dot(move, move) - 2 * dot(move, left));
  const best = new Map<number, { readonly a: number; readonly b: number; readonly square: number }>();
  const start = dot(left, left);
  for (let a = 0; a < places.length; a++) {
    for (let b = a + 1; b < places.length; b++) {
      const [first, second] = [places[a]!.entry, places[b]!.entry];
      if (first === second || sharePart(catalogue.entries[first]!, catalogue.entries[second]!)) continue;
      const square = start + own[a]! + own[b]! + 2 * dot(moves[a]!, moves[b]!);
      const key = first * catalogue.entries.length + second;
      const known = best.get(key);
      if (known === undefined || square < known.square) best.set(key, { a, b, square });
    }
    if (a % 50 === 0) yield (0.3 * a) / places.length;
  }
  const leading = [...best.values()].sort((x, y) => x.square - y.square).slice(0, solvedPairs);
  const fits: PairFit[] = [];
  for (const [n, { a, b }] of leading.entries()) {
    const fit = fitPair(catalogue, weigher, values, places[a]!, places[b]!);
    if (fit !== null) fits.push(fit);
    yield 0.3 + (0.7 * (n + 1)) / leading.length;
  }
  return fits.sort((x, y) => y.logLikelihood - x.logLikelihood);
}

function sharePart(first: Entry, second: Entry): boolean {
  return first.hypothesis.refs.some((ref) => second.hypothesis.refs.includes(ref));
}

function fitPair(catalogue: Catalogue, weigher: Weigher, values: Float64Array, a: Place, b: Place): PairFit | null {
  const sides = [a, b].map(({ entry, run, index }) => {
    const { runs } = catalogue.entries[entry]!;
    return { of: runs[run]!.of, values: runs[run]!.values, index, value: runs[run]!.values[index] ?? null };
  });
  const solve = (): PairFit | null => {
    const [one, other] = [sides[0]!, sides[1]!];
    const circuit = other.of.apply(one.of.apply(catalogue.circuit, one.value), other.value);
    const prediction = predict(circuit, catalogue.setting);
    if (prediction === null) return null;
    const { logLikelihood, square } = weigher.lone(prediction, values);
    return { entries: [a.entry, b.entry], values: [one.value, other.value], square, logLikelihood, prediction };
  };
  let found = solve();
  for (let turn = 0; turn < turns && found !== null; turn++) {
    for (const side of sides) {
      const [low, high] = [side.values[side.index - 1] ?? side.value, side.values[side.index + 1] ?? side.value];
      if (side.value === null || low === null || high === null || low === high) continue;
      const narrowed = 0.5 ** turn;
      for (const end of [low, high]) {
        const held: number | null = side.value;
        side.value = between(held, end, 0.5 * narrowed);
        const then = solve();
        if (then !== null && then.logLikelihood > found.logLikelihood) found = then;
        else side.value = held;
      }
    }
  }
  return found;
}

/** On a logarithmic line where both are of one sign. */
function between(from: number, to: number, share: number): number {
  return from / to > 0 ? from * (to / from) ** share : from + share * (to - from);
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < a.length; n++) sum += a[n]! * b[n]!;
  return sum;
}
