/** Straight between the points over log x; null outside them and beside a point that is no number. `x` ascends. */
export function valueAt(x: ArrayLike<number>, y: ArrayLike<number>, at: number): number | null {
  for (let i = 0; i < x.length; i++) {
    const [right, high] = [x[i] ?? NaN, y[i] ?? NaN];
    // Rounding may put the ends just past the first and the last point.
    if (right < at * (1 - 1e-9)) continue;
    if (Math.abs(right / at - 1) < 1e-9) return numberOrNull(high);
    const [left, low] = [x[i - 1] ?? NaN, y[i - 1] ?? NaN];
    return numberOrNull(low + ((high - low) * Math.log(at / left)) / Math.log(right / left));
  }
  return null;
}

function numberOrNull(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}

export interface LinePoint {
  readonly x: number;
  readonly y: number;
}

/** The point furthest from 0 between two x, ends included; null where there is none. */
export function furthestPoint(x: ArrayLike<number>, y: ArrayLike<number>, from: number, to: number): LinePoint | null {
  const ends = [from, to].map((at) => ({ x: at, y: valueAt(x, y, at) ?? NaN }));
  return pointsOf(x, y)
    .filter((point) => point.x > from && point.x < to)
    .concat(ends)
    .filter((point) => Number.isFinite(point.y))
    .reduce<LinePoint | null>(
      (best, each) => (best === null || Math.abs(each.y) > Math.abs(best.y) ? each : best),
      null,
    );
}

/** Lowest and highest finite y from `from` up; null where there is none. */
export function reachFrom(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  from: number,
): readonly [low: number, high: number] | null {
  const levels = pointsOf(x, y)
    .filter((point) => point.x >= from && Number.isFinite(point.y))
    .map((point) => point.y);
  return levels.length === 0 ? null : [Math.min(...levels), Math.max(...levels)];
}

function pointsOf(x: ArrayLike<number>, y: ArrayLike<number>): readonly LinePoint[] {
  return Array.from({ length: Math.min(x.length, y.length) }, (_, i) => ({ x: x[i] ?? NaN, y: y[i] ?? NaN }));
}
