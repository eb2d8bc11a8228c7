import type { Catalogue } from './catalogue.ts';
import type { Entry } from './entry.ts';
import { caseWeights, squareOf, whitened, type CaseWeights, type Reading, type SharedError } from './covariance.ts';
import type { Prediction } from './predict.ts';

/** What readings say of one hypothesis. */
export interface Weighed {
  /** ln of the likelihood, averaged over the values that the fault may have. */
  readonly logLikelihood: number;
  /** Where the likelihood is greatest: the fitted value. */
  readonly best: BestFit;
  /** A few places that stand for all values the fault may have, each with its part of the likelihood; the parts add up to 1. */
  readonly points: readonly WeightedPoint[];
}

/** A case of a run, or so far on the way to the next. */
export interface RunPoint {
  readonly run: number;
  readonly index: number;
  readonly share: number;
}

export interface WeightedPoint extends RunPoint {
  readonly weight: number;
}

export interface BestFit extends RunPoint {
  readonly value: number | null;
  /** Squared distance of the readings from the prediction in standard deviations: χ² with as many degrees of freedom as readings. */
  readonly square: number;
  /** How far the cases on either side lie apart, in standard deviations. */
  readonly stride: number;
}

export interface Weigher {
  readonly readings: number;
  healthy(values: Float64Array): Weighed;
  /** In the order of the catalogue's entries. */
  all(values: Float64Array): readonly Weighed[];
  /** One that is not of the catalogue. */
  one(entry: Entry, values: Float64Array): Weighed;
  /** A prediction that stands alone. */
  lone(prediction: Prediction, values: Float64Array): { readonly logLikelihood: number; readonly square: number };
  /** How far the readings lie from those of a healthy board, and how far a prediction does, in that board's standard deviations. */
  left(values: Float64Array): Float64Array;
  moved(prediction: Prediction): Float64Array;
  /** How far two predictions lie apart, in standard deviations of the first. */
  apart(first: Prediction, second: Prediction): number;
}

/**
 * Degrees of freedom of the t-distribution that a whole set of readings follows: the covariance is itself an estimate (first-order moves, tolerances
 * from the build), and its scale is known to about a third (Lange, Little & Taylor, J. Am. Stat. Assoc. 84, 1989; from memory). A Gaussian would
 * condemn a fault for a covariance that is a little too small.
 */
const freedom = 10;

/** Everything that does not depend on what is read is done once: the readings' covariance for each case, from tolerances, meter and model. */
export function weigher(catalogue: Catalogue, readings: readonly Reading[], shared: readonly SharedError[]): Weigher {
  const made = (prediction: Prediction): CaseWeights => caseWeights(prediction, { catalogue, readings, shared });
  const healthy = made(catalogue.healthy);
  const entries = catalogue.entries.map((entry) => entryWeights(entry, made));
  return {
    readings: readings.length,
    healthy(values) {
      const square = squareOf(whitened(healthy, values));
      return {
        logLikelihood: logStudent(square, healthy.logRoot, readings.length),
        best: { value: null, run: 0, index: 0, share: 0, square, stride: 0 },
        points: [{ run: 0, index: 0, share: 0, weight: 1 }],
      };
    },
    all: (values) => entries.map((entry) => weighEntry(entry, values)),
    one: (entry, values) => weighEntry(entryWeights(entry, made), values),
    lone(prediction, values) {
      const own = made(prediction);
      const square = squareOf(whitened(own, values));
      return { logLikelihood: logStudent(square, own.logRoot, readings.length), square };
    },
    left: (values) => whitened(healthy, values),
    moved: (prediction) => whitened(healthy, made(prediction).mean),
    apart: (first, second) => Math.sqrt(squareOf(whitened(made(first), made(second).mean))),
  };
}

interface EntryWeights {
  readonly runs: readonly (readonly CaseWeights[])[];
  /** From each case to the next, and from each back to the one before, whitened as the former. */
  readonly onward: readonly (readonly Float64Array[])[];
  readonly back: readonly (readonly Float64Array[])[];
}

function entryWeights({ runs }: Entry, made: (prediction: Prediction) => CaseWeights): EntryWeights {
  const all = runs.map(({ values, predictions }) =>
    predictions.map((prediction, n) => ({ ...made(prediction), value: values[n] ?? null })),
  );
  return {
    runs: all,
    onward: all.map((run) => run.slice(1).map((next, n) => whitened(run[n]!, next.mean))),
    back: all.map((run) => run.slice(1).map((next, n) => whitened(next, run[n]!.mean))),
  };
}

function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < a.length; n++) sum += a[n]! * b[n]!;
  return sum;
}

/** But for what all cases have in common. */
function logStudent(square: number, logRoot: number, count: number): number {
  return -logRoot - ((freedom + count) / 2) * Math.log1p(square / freedom);
}

/**
 * Between two cases the prediction goes in a straight line over the logarithm of the value, whitened once as the one and once as the other case, so
 * that the square of the distance is a parabola; it is summed in steps finer than the peak is wide.
 */
function weighEntry({ runs, onward, back }: EntryWeights, values: Float64Array): Weighed {
  let best: BestFit & { readonly log: number } = {
    log: -Infinity,
    value: null,
    run: 0,
    index: 0,
    share: 0,
    square: Infinity,
    stride: 0,
  };
  const logs: number[] = [];
  const places: RunPoint[] = [];
  runs.forEach((run, r) => {
    const left = run.map((each) => whitened(each, values));
    const squares = left.map(squareOf);
    const consider = (at: RunPoint, square: number, stride: number, logRoot: number, weight: number): void => {
      const log = logStudent(square, logRoot, values.length);
      logs.push(log + Math.log(weight));
      places.push(at);
      if (log > best.log) best = { log, value: valueBetween(run, at.index, at.share), ...at, square, stride };
    };
    if (run.length === 1) {
      consider({ run: r, index: 0, share: 0 }, squares[0]!, 0, run[0]!.logRoot, 1 / runs.length);
      return;
    }
    for (let n = 0; n + 1 < run.length; n++) {
      const [a, b] = [run[n]!, run[n + 1]!];
      const ahead = onward[r]![n]!;
      const behind = back[r]![n]!;
      const [pa, pb] = [product(left[n]!, ahead), product(left[n + 1]!, behind)];
      const [ca, cb] = [squareOf(ahead), squareOf(behind)];
      const steps = Math.min(48, Math.max(4, Math.ceil(1.5 * Math.sqrt(Math.min(ca, cb)))));
      for (let s = 0; s < steps; s++) {
        const t = (s + 0.5) / steps;
        const fromA = squares[n]! - 2 * t * pa + t * t * ca;
        const fromB = squares[n + 1]! - 2 * (1 - t) * pb + (1 - t) ** 2 * cb;
        const square = (1 - t) * fromA + t * fromB;
        const logRoot = (1 - t) * a.logRoot + t * b.logRoot;
        const weight = 1 / (runs.length * (run.length - 1) * steps);
        consider({ run: r, index: n, share: t }, Math.max(0, square), Math.sqrt(Math.min(ca, cb)), logRoot, weight);
      }
    }
  });
  const { log: _, ...fit } = best;
  const logLikelihood = logSum(logs);
  return { logLikelihood, best: fit, points: standIns(places, logs, logLikelihood) };
}

const mostPoints = 4;

/** The middles of equal parts of the likelihood, in the order of the values. */
function standIns(places: readonly RunPoint[], logs: readonly number[], total: number): readonly WeightedPoint[] {
  if (places.length <= mostPoints) return places.map((at, n) => ({ ...at, weight: Math.exp(logs[n]! - total) }));
  const points: WeightedPoint[] = [];
  let passed = 0;
  for (let n = 0; n < places.length && points.length < mostPoints; n++) {
    passed += Math.exp(logs[n]! - total);
    while (points.length < mostPoints && passed >= (points.length + 0.5) / mostPoints)
      points.push({ ...places[n]!, weight: 1 / mostPoints });
  }
  return points;
}

/** On a logarithmic line, or a straight one from nothing. */
function valueBetween(run: readonly CaseWeights[], index: number, share: number): number | null {
  const [a, b] = [run[index]?.value ?? null, run[index + 1]?.value ?? null];
  if (a === null || b === null) return a;
  return a / b > 0 ? a * (b / a) ** share : a + share * (b - a);
}

/** ln Σ exp. */
export function logSum(logs: readonly number[]): number {
  let largest = -Infinity;
  for (const log of logs) largest = Math.max(largest, log);
  if (largest === -Infinity) return -Infinity;
  let sum = 0;
  for (const log of logs) sum += Math.exp(log - largest);
  return largest + Math.log(sum);
}
