import type { Catalogue, Entry } from './catalogue.ts';
import type { Prediction } from './predict.ts';
import { meterSigma } from './spot.ts';

/** What is read: a spot, or several with factors (left minus right), and how exactly. */
export interface Reading {
  readonly terms: readonly { readonly spot: number; readonly factor: number }[];
  readonly value: number;
  /** dB, standard deviation of one gain; voltages have their meter's. */
  readonly sigma?: number;
}

/** An error that several readings share: a level that is not known, the same in all of them. */
export interface SharedError {
  /** Places among the readings. */
  readonly readings: readonly number[];
  readonly sigma: number;
}

/** What readings say of one hypothesis. */
export interface Weighed {
  /** ln of the likelihood, averaged over the values that the fault may have. */
  readonly logLikelihood: number;
  /** Where the likelihood is greatest: the fitted value, with the case before it and the share of the way to the next. */
  readonly best: BestFit;
}

export interface BestFit {
  readonly value: number | null;
  readonly run: number;
  readonly index: number;
  readonly share: number;
  /** Squared distance of the readings from the prediction in standard deviations: χ² with as many degrees of freedom as readings. */
  readonly square: number;
}

export interface Weigher {
  readonly readings: number;
  healthy(values: Float64Array): Weighed;
  /** In the order of the catalogue's entries. */
  all(values: Float64Array): readonly Weighed[];
  /** One that is not of the catalogue. */
  one(entry: Entry, values: Float64Array): Weighed;
}

/** What no tolerance accounts for: V, a part of the volts, dB. */
const modelVolts = 3e-3;
const modelShare = 3e-3;
const modelDb = 0.05;

/**
 * Degrees of freedom of the t-distribution that a whole set of readings follows: the covariance is itself an estimate (first-order moves, tolerances
 * from the build), and its scale is known to about a third (Lange, Little & Taylor, J. Am. Stat. Assoc. 84, 1989; from memory). A Gaussian would
 * condemn a fault for a covariance that is a little too small.
 */
const freedom = 10;

/** Everything that does not depend on what is read is done once: the readings' covariance for each case, from tolerances, meter and model. */
export function weigher(catalogue: Catalogue, readings: readonly Reading[], shared: readonly SharedError[]): Weigher {
  const made = (prediction: Prediction): CaseWeights => caseWeights(prediction, catalogue, readings, shared);
  const healthy = made(catalogue.healthy);
  const entries = catalogue.entries.map((entry) => entryWeights(entry, made));
  return {
    readings: readings.length,
    healthy(values) {
      const square = squareOf(whitened(healthy, values));
      return {
        logLikelihood: logStudent(square, healthy.logRoot, readings.length),
        best: { value: null, run: 0, index: 0, share: 0, square },
      };
    },
    all: (values) => entries.map((entry) => weighEntry(entry, values)),
    one: (entry, values) => weighEntry(entryWeights(entry, made), values),
  };
}

interface CaseWeights {
  readonly value: number | null;
  readonly mean: Float64Array;
  /** Cholesky factor, lower rows packed one after the other, its diagonal inverted. */
  readonly root: Float64Array;
  /** ln of its determinant. */
  readonly logRoot: number;
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

function caseWeights(
  { mean, moves, open }: Prediction,
  { spots, loose }: Catalogue,
  readings: readonly Reading[],
  shared: readonly SharedError[],
): CaseWeights {
  const groups = loose.groups.length;
  const count = readings.length;
  const width = groups + shared.length;
  const rows = new Float64Array(count * width);
  const own = new Float64Array(count);
  const means = new Float64Array(count);
  readings.forEach(({ terms, sigma = 0 }, r) => {
    let variance = sigma ** 2;
    for (const { spot, factor } of terms) {
      means[r] = means[r]! + factor * mean[spot]!;
      for (let g = 0; g < groups; g++) rows[r * width + g] = rows[r * width + g]! + factor * moves[spot * groups + g]!;
      const at = spots[spot]!;
      const volts = Math.abs(mean[spot]!);
      variance +=
        factor ** 2 *
        (open[spot]! ** 2 +
          (at.kind === 'volts'
            ? meterSigma(at.meter, volts) ** 2 + modelVolts ** 2 + (modelShare * volts) ** 2
            : modelDb ** 2));
    }
    own[r] = variance;
  });
  shared.forEach(({ readings: among, sigma }, k) => {
    for (const r of among) rows[r * width + groups + k] = sigma;
  });
  const root = new Float64Array((count * (count + 1)) / 2);
  let logRoot = 0;
  for (let i = 0, at = 0; i < count; i++) {
    for (let j = 0, above = 0; j <= i; j++) {
      let sum = i === j ? own[i]! : 0;
      for (let k = 0; k < width; k++) sum += rows[i * width + k]! * rows[j * width + k]!;
      for (let k = 0; k < j; k++) sum -= root[at + k]! * root[above + k]!;
      above += j;
      if (j < i) root[at + j] = sum * root[above]!;
      else {
        const pivot = Math.sqrt(Math.max(sum, own[i]! * 1e-12));
        root[at + i] = 1 / pivot;
        logRoot += Math.log(pivot);
      }
      above += 1;
    }
    at += i + 1;
  }
  return { value: null, mean: means, root, logRoot };
}

/** (values − mean) in standard deviations that do not hang together: the factor's inverse times it. */
function whitened({ mean, root }: CaseWeights, values: Float64Array): Float64Array {
  const count = mean.length;
  const out = new Float64Array(count);
  for (let i = 0, at = 0; i < count; i++) {
    let sum = values[i]! - mean[i]!;
    for (let k = 0; k < i; k++) sum -= root[at + k]! * out[k]!;
    out[i] = sum * root[at + i]!;
    at += i + 1;
  }
  return out;
}

function squareOf(vector: Float64Array): number {
  let sum = 0;
  for (const each of vector) sum += each * each;
  return sum;
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
  let best: BestFit & { readonly log: number } = { log: -Infinity, value: null, run: 0, index: 0, share: 0, square: Infinity };
  const logs: number[] = [];
  runs.forEach((run, r) => {
    const left = run.map((each) => whitened(each, values));
    const squares = left.map(squareOf);
    const consider = (index: number, share: number, square: number, logRoot: number, weight: number): void => {
      const log = logStudent(square, logRoot, values.length);
      logs.push(log + Math.log(weight));
      if (log > best.log) best = { log, value: valueBetween(run, index, share), run: r, index, share, square };
    };
    if (run.length === 1) {
      consider(0, 0, squares[0]!, run[0]!.logRoot, 1 / runs.length);
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
        consider(n, t, Math.max(0, square), (1 - t) * a.logRoot + t * b.logRoot, 1 / (runs.length * (run.length - 1) * steps));
      }
    }
  });
  const { log: _, ...fit } = best;
  return { logLikelihood: logSum(logs), best: fit };
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
