import { burgFit, predictionError } from './linear-prediction.ts';
import { robustScale } from './robust-scale.ts';

/** A stretch whose steady noise has been made white. Its arrays hold until the next one. */
export interface WhiteStretch {
  /** a₀ = 1 to a_order: the error is Σ a_k·y[n − k]. */
  readonly coefficients: Float64Array;
  /** What could not be foreseen of every sample; 0 of the first `order` of them. */
  readonly error: Float64Array;
  /** Standard deviation of the error where nothing happens. */
  readonly scale: number;
}

export interface WhitenerOptions {
  readonly order: number;
  /** Samples of the longest stretch. */
  readonly longest: number;
  /** Samples that the predictor is fitted to: the quietest so many of a stretch. */
  readonly fitted: number;
  /** What stands out for more samples than this is a new level rather than an event, and is fitted. */
  readonly longestEvent: number;
  /** Standard deviation of what rounding leaves of a silence. */
  readonly leastScale: number;
}

/** Multiples of the scale beyond which an error says nothing of the steady noise. */
const outlier = 5;

/** The first fit is led astray by what it shall find; more than these change little. */
const mostFits = 3;

/**
 * Fits a predictor to a stretch's steady noise: what stands out is left out of the fit, and the fit made again (robust scale and repeated fit:
 * S. J. Godsill, P. J. W. Rayner, "Digital Audio Restoration", 1998; from memory). The samples lose their mean.
 */
export function whitener({
  order,
  longest,
  fitted,
  longestEvent,
  leastScale,
}: WhitenerOptions): (samples: Float64Array) => WhiteStretch {
  const fit = burgFit(order, longest);
  const scaleOf = robustScale(longest);
  const weights = new Float64Array(longest);
  const errors = new Float64Array(longest);
  const heard = new Float64Array(longest);

  /** Gives weight 0 to every error in which an outlier takes part; returns how many. */
  const leaveOut = (error: Float64Array, limit: number): number => {
    weights.fill(1);
    let [left, onset, end] = [0, -Infinity, -1];
    for (let n = order; n < error.length; n++) {
      if (Math.abs(error[n]!) > limit) {
        if (n > end) onset = n;
        if (n - onset < longestEvent) end = n + order;
      }
      if (n > end) continue;
      weights[n] = 0;
      left++;
    }
    return left;
  };

  /** Digital silence, of which a recording may have some, says nothing of the noise. */
  const scaleOfNoise = (samples: Float64Array, error: Float64Array): number => {
    let [heardCount, same] = [0, 0];
    for (let n = 1; n < samples.length; n++) {
      same = samples[n] === samples[n - 1] ? same + 1 : 0;
      if (n >= order && same < order) heard[heardCount++] = error[n]!;
    }
    return Math.max(leastScale, scaleOf(heard.subarray(0, heardCount)));
  };

  const errorOf = (coefficients: Float64Array, samples: Float64Array): { error: Float64Array; scale: number } => {
    const error = errors.subarray(0, samples.length);
    predictionError(coefficients, samples, error);
    return { error, scale: scaleOfNoise(samples, error) };
  };

  const fitRobustly = (samples: Float64Array): Float64Array => {
    weights.fill(1);
    let left = 0;
    let coefficients = fit(samples, weights);
    for (let fits = 1; fits < mostFits; fits++) {
      const { error, scale } = errorOf(coefficients, samples);
      const before = left;
      left = leaveOut(error, outlier * scale);
      // Half of the samples is what a robust scale can bear.
      if (left === before || left > samples.length / 2) break;
      coefficients = fit(samples, weights);
    }
    return coefficients;
  };

  return (samples) => {
    removeMean(samples);
    const coefficients = fitRobustly(quietest(samples, fitted));
    return { coefficients, ...errorOf(coefficients, samples) };
  };
}

function removeMean(samples: Float64Array): void {
  let sum = 0;
  for (const sample of samples) sum += sample;
  const mean = sum / samples.length;
  for (let n = 0; n < samples.length; n++) samples[n]! -= mean;
}

/** The piece of so many samples that changes least from each to the next, of those that are no digital silence; all of them where there are no more. */
function quietest(samples: Float64Array, size: number): Float64Array {
  const pieces: { readonly piece: Float64Array; readonly moves: number; readonly perMove: number }[] = [];
  for (let from = 0; from + size <= samples.length; from += size) {
    const piece = samples.subarray(from, from + size);
    let [change, moves] = [0, 0];
    for (let n = 1; n < size; n++) {
      const difference = piece[n]! - piece[n - 1]!;
      change += difference * difference;
      if (difference !== 0) moves++;
    }
    pieces.push({ piece, moves, perMove: change / moves });
  }
  const most = Math.max(...pieces.map(({ moves }) => moves));
  const [first, ...others] = pieces.filter(({ moves }) => moves > most / 2);
  return first === undefined
    ? samples
    : others.reduce((least, each) => (each.perMove < least.perMove ? each : least), first).piece;
}
