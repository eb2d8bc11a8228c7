import type { FigureAt } from '@curvewright/board';

/** hFE over collector current: straight lines in log hFE over log current, constant beyond both ends. */
export type GainCurve = readonly GainStretch[];

interface GainStretch {
  /** hFE at the start of the stretch. */
  readonly gain: number;
  /** ln A at the start of the stretch. */
  readonly logCurrent: number;
  /** d ln hFE / d ln I up to the next point; 0 for the last. */
  readonly exponent: number;
}

/** A curve through datasheet points in ascending order of current (A); a single point is a constant. */
export function gainCurve(points: readonly FigureAt[]): GainCurve {
  return points.map((point, index) => {
    const next = points[index + 1];
    const exponent = next ? Math.log(next.value / point.value) / Math.log(next.at / point.at) : 0;
    return { gain: point.value, logCurrent: Math.log(point.at), exponent };
  });
}

/** hFE at `current` (A). */
export function gainAt(curve: GainCurve, current: number): number {
  const stretch = stretchAt(curve, current);
  if (!stretch) return curve[0]!.gain;
  // The last stretch is flat and may start at 0 A, whose logarithm must stay out of the sum.
  if (stretch.exponent === 0) return stretch.gain;
  return stretch.gain * Math.exp(stretch.exponent * (Math.log(current) - stretch.logCurrent));
}

/** d ln hFE / d ln I at `current` (A); a jump at each point. */
export function gainExponent(curve: GainCurve, current: number): number {
  return stretchAt(curve, current)?.exponent ?? 0;
}

/** The stretch that holds `current`; none below the first point. */
function stretchAt(curve: GainCurve, current: number): GainStretch | undefined {
  const logCurrent = current > 0 ? Math.log(current) : -Infinity;
  return curve.findLast((stretch) => stretch.logCurrent <= logCurrent);
}
