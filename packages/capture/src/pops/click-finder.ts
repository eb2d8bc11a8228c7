import type { WhiteStretch } from './whitener.ts';

/** What stands out of a stretch, in samples of it and in the samples' unit. */
export interface Outstanding {
  readonly at: number;
  /** Its last sample that stands out. */
  readonly until: number;
  /** Its largest departure from what was to be expected, with its sign. */
  readonly height: number;
}

/**
 * Runs of errors beyond `limit`, with no more than `quiet` samples between them, that begin from `from` to before `to`. The height is how far the samples
 * depart from what the predictor makes of those before the run, over the run or its first `quiet` samples and a few more, as a click is
 * highest a little after it begins.
 */
export function findClicks(
  { coefficients, error }: WhiteStretch,
  from: number,
  to: number,
  limit: number,
  quiet: number,
): readonly Outstanding[] {
  const found: Outstanding[] = [];
  for (let n = from; n < to; n++) {
    if (Math.abs(error[n]!) <= limit) continue;
    let until = n;
    let inHeight = n;
    for (let k = n + 1; k < to && k - until <= quiet; k++) {
      if (Math.abs(error[k]!) <= limit) continue;
      until = k;
      if (k - n <= quiet) inHeight = k;
    }
    const end = Math.min(error.length, inHeight + 1 + rise);
    found.push({ at: n, until, height: heightOf(coefficients, error.subarray(n, end)) });
    n = until;
  }
  return found;
}

/** Samples in which a click may still rise after the last one that was not to be expected. */
const rise = 8;

/** The errors of a run, put through the model that made white noise of them: the samples less what was to be expected of them. */
function heightOf(coefficients: Float64Array, errors: Float64Array): number {
  const departure = new Float64Array(errors.length);
  let height = 0;
  for (let n = 0; n < errors.length; n++) {
    let sum = errors[n]!;
    for (let k = 1; k < coefficients.length && k <= n; k++) sum -= coefficients[k]! * departure[n - k]!;
    departure[n] = sum;
    if (Math.abs(sum) > Math.abs(height)) height = sum;
  }
  return height;
}
