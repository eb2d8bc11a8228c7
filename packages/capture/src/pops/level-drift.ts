import { nthSmallest } from './robust-scale.ts';

/** How a recording's level (its dc) goes, as shares of full scale. */
export interface LevelDrift {
  /** On the line through the seconds' means, at the start and at the end. */
  readonly from: number;
  readonly to: number;
  readonly perMin: number;
  /** Standard deviation of the seconds' means about the line. */
  readonly wander: number;
}

/** The most points of the line: an hour by the second would be six million pairs. */
const mostPoints = 600;

/** Means of every second of a recording. */
export function secondMeans(rate: number): {
  readonly push: (samples: Float32Array | Float64Array) => void;
  readonly means: readonly number[];
} {
  const perMean = Math.round(rate);
  const means: number[] = [];
  let kept = { sum: 0, count: 0 };
  const push = (samples: Float32Array | Float64Array): void => {
    let { sum, count } = kept;
    for (let n = 0; n < samples.length; n++) {
      sum += samples[n]!;
      if (++count < perMean) continue;
      means.push(sum / perMean);
      sum = 0;
      count = 0;
    }
    kept = { sum, count };
  };
  return { push, means };
}

/**
 * The median slope of all pairs of seconds, through the median (H. Theil, 1950; P. K. Sen, 1968; from memory): steps and pops hardly move it. Null
 * for less than 10 s, of which no drift can be told.
 */
export function levelDrift(means: readonly number[]): LevelDrift | null {
  if (means.length < 10) return null;
  const stride = Math.ceil(means.length / mostPoints);
  const points = means.flatMap((mean, n) => (n % stride === 0 ? [{ s: n + 0.5, mean }] : []));
  const slopes = points.flatMap((a, i) => points.slice(i + 1).map((b) => (b.mean - a.mean) / (b.s - a.s)));
  const slope = median(slopes);
  const start = median(points.map(({ s, mean }) => mean - slope * s));
  const departures = points.map(({ s, mean }) => Math.abs(mean - start - slope * s));
  return { from: start, to: start + slope * means.length, perMin: 60 * slope, wander: 1.4826 * median(departures) };
}

function median(values: readonly number[]): number {
  return nthSmallest(Float64Array.from(values), values.length, values.length >> 1);
}
