import type { Catalogue } from './catalogue.ts';
import type { Prediction } from './predict.ts';
import { meterSigma, ohmsSigma, type Spot } from './spot.ts';

/** What is read: a spot, or several with factors (left minus right), and how exactly. */
export interface Reading {
  readonly terms: readonly { readonly spot: number; readonly factor: number }[];
  /** dB, standard deviation of one gain; voltages have their meter's. */
  readonly sigma?: number;
}

/** An error that several readings share: a level that is not known, the same in all of them. */
export interface SharedError {
  /** Places among the readings. */
  readonly readings: readonly number[];
  readonly sigma: number;
}

/** What is read on a board, whatever it shows. */
export interface Design {
  readonly catalogue: Pick<Catalogue, 'spots' | 'loose'>;
  readonly readings: readonly Reading[];
  readonly shared: readonly SharedError[];
}

/** What no tolerance accounts for: V, a part of the volts, dB. */
const modelVolts = 3e-3;
const modelShare = 3e-3;
const modelDb = 0.05;

/** What one case says of the readings. */
export interface CaseWeights {
  readonly value: number | null;
  readonly mean: Float64Array;
  /** How each loose group, and then each shared error, moves each reading. */
  readonly rows: Float64Array;
  /** Cholesky factor, lower rows packed one after the other, its diagonal inverted. */
  readonly root: Float64Array;
  /** ln of its determinant. */
  readonly logRoot: number;
}

/** `made` once for each case: nothing here depends on what is read. */
export function caseWeights(
  { mean, moves, open }: Prediction,
  { catalogue: { spots, loose }, readings, shared }: Design,
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
      variance += factor ** 2 * (open[spot]! ** 2 + errorVariance(at, mean[spot]!));
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
  return { value: null, mean: means, rows, root, logRoot };
}

/** What meter and model leave open at a spot, V², dB² or of ln Ω. */
export function errorVariance(spot: Spot, mean: number): number {
  switch (spot.kind) {
    case 'volts':
      return meterSigma(spot.meter, mean) ** 2 + modelVolts ** 2 + (modelShare * mean) ** 2;
    case 'ohms':
      return ohmsSigma(spot.meter) ** 2;
    case 'gain':
    case 'hiss':
    case 'hum':
      return modelDb ** 2;
  }
}

/** (values − mean) in standard deviations that do not hang together: the factor's inverse times it. */
export function whitened({ mean, root }: CaseWeights, values: Float64Array): Float64Array {
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

export function squareOf(vector: Float64Array): number {
  let sum = 0;
  for (const each of vector) sum += each * each;
  return sum;
}
