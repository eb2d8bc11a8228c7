import { shareAlong, type Axis, type Series } from '@curvewright/report';

/** A line's value straight between its points along the axis; null outside them and beside a point that is no number. */
export function readAt(axis: Axis, { x, y }: Pick<Series, 'x' | 'y'>, at: number): number | null {
  const place = shareAlong(axis, at);
  for (let i = 0; i < x.length; i++) {
    const right = shareAlong(axis, x[i] ?? NaN);
    const high = y[i] ?? NaN;
    // Rounding may put the ends just past the first and the last point.
    if (right < place - 1e-9) continue;
    if (right <= place + 1e-9) return Number.isNaN(high) ? null : high;
    const left = shareAlong(axis, x[i - 1] ?? NaN);
    const low = y[i - 1] ?? NaN;
    const value = low + ((high - low) * (place - left)) / (right - left);
    return Number.isNaN(value) ? null : value;
  }
  return null;
}
