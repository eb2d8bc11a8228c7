import { nearestStep } from './nearest-step.ts';

/** What is left over of an aim, number by number, with these natural logarithms of values; null where it cannot be told. */
export type Residuals = (logs: readonly number[]) => Float64Array | null;

/** Second-order model of residuals around a point: what a search can ask thousands of times. */
export interface TrimModel {
  /** ln of the values around which it was made: the best that values of any size could do. */
  readonly centre: readonly number[];
  /** d residual / d ln value there, by value. */
  readonly slopes: readonly Float64Array[];
  /** Largest residual, by magnitude, so far from the centre. */
  worst(move: readonly number[]): number;
  /** The moves of the values `free` with which the largest residual is least, the others as they are. */
  freed(move: readonly number[], free: readonly number[]): readonly number[];
}

/** Steps of ln value for first differences on the way, and for second ones at the end. */
const [firstStep, secondStep] = [0.01, 0.05];
const rounds = 6;
/** The furthest one round goes, and all of them together: values half or twice as large. */
const [stride, reach] = [0.4, Math.LN2];
/**
 * Shares of the mean curvature: what holds the centre to the present values where little is gained by leaving them, as with all values of a
 * network at once, and what keeps apart two values that undo each other.
 */
const [homesick, ridge] = [3e-4, 1e-6];
/** Rounds end with a step of ln value below this. */
const settled = 1e-3;

/** From the values that stand there now. Null where the residuals cannot be told all around. */
export function trimModel(residuals: Residuals, start: readonly number[]): TrimModel | null {
  let centre = start;
  for (let round = 0; round < rounds; round++) {
    const at = residuals(centre);
    const slopes = at === null ? null : slopesAt(residuals, centre, at, firstStep);
    if (at === null || slopes === null) return null;
    const away = centre.map((value, k) => value - start[k]!);
    const step = nearestStep(at, slopes, homesick, away);
    centre = centre.map((_, k) => start[k]! + clamp(away[k]! + clamp(step[k] ?? 0, stride), reach));
    if (step.every((by) => Math.abs(by) < settled)) break;
  }
  return modelAround(residuals, centre);
}

function modelAround(residuals: Residuals, centre: readonly number[]): TrimModel | null {
  const at = residuals(centre);
  const ups = centre.map((_, k) => residuals(moved(centre, k, secondStep)));
  const downs = centre.map((_, k) => residuals(moved(centre, k, -secondStep)));
  const corners = centre.map((_, k) =>
    centre.map((__, m) => (m < k ? residuals(moved(moved(centre, k, secondStep), m, secondStep)) : at)),
  );
  if (at === null || !isWhole(ups) || !isWhole(downs) || !corners.every(isWhole)) return null;
  const slopes = centre.map((_, k) => at.map((__, n) => (ups[k]![n]! - downs[k]![n]!) / (2 * secondStep)));
  const bends = centre.map((_, k) =>
    centre.map((__, m) =>
      at.map((here, n) => {
        if (m === k) return (ups[k]![n]! - 2 * here + downs[k]![n]!) / secondStep ** 2;
        const corner = corners[Math.max(k, m)]![Math.min(k, m)]![n]!;
        return (corner - ups[k]![n]! - ups[m]![n]! + here) / secondStep ** 2;
      }),
    ),
  );

  function residualsAt(move: readonly number[]): Float64Array {
    return at!.map((here, n) => {
      let sum = here;
      for (let k = 0; k < move.length; k++) {
        let slope = slopes[k]![n]!;
        for (let m = 0; m < move.length; m++) slope += 0.5 * bends[k]![m]![n]! * move[m]!;
        sum += slope * move[k]!;
      }
      return sum;
    });
  }
  return {
    centre,
    slopes,
    worst: (move) => largest(residualsAt(move)),
    freed(move, free) {
      let result = move;
      // One step of a second-order model, then one to mend what the first left.
      for (let n = 0; n < 2; n++) {
        const bent = free.map((k) =>
          slopes[k]!.map((slope, i) => result.reduce((sum, by, m) => sum + bends[k]![m]![i]! * by, slope)),
        );
        const step = nearestStep(residualsAt(result), bent, ridge);
        result = result.map((value, k) =>
          free.includes(k) ? value + clamp(step[free.indexOf(k)] ?? 0, stride) : value,
        );
      }
      return result;
    },
  };
}

function slopesAt(
  residuals: Residuals,
  logs: readonly number[],
  at: Float64Array,
  step: number,
): readonly Float64Array[] | null {
  const slopes = logs.map(
    (_, k) => residuals(moved(logs, k, step))?.map((value, n) => (value - at[n]!) / step) ?? null,
  );
  return isWhole(slopes) ? slopes : null;
}

function isWhole(all: readonly (Float64Array | null)[]): all is readonly Float64Array[] {
  return all.every((each) => each !== null);
}

function moved(logs: readonly number[], index: number, by: number): readonly number[] {
  return logs.map((value, k) => (k === index ? value + by : value));
}

function clamp(value: number, most: number): number {
  return Math.max(-most, Math.min(most, value));
}

/** The largest magnitude. */
export function largest(numbers: Float64Array): number {
  return numbers.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
}
