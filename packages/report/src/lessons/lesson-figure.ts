import type { CurveFigure, Note, Series } from '../figure/figure.ts';
import type { Look } from '../figure/figure-style.ts';
import { dbAxis, hzAxis, type Axis } from '../figure/scales.ts';

/** A line of a lesson's figure. */
export function line(label: string, look: Look, x: ArrayLike<number>, y: ArrayLike<number>): Series {
  return { label, channel: null, look, double: false, x, y };
}

interface LessonPlot {
  readonly title: string;
  readonly x: Axis;
  readonly y: Axis;
  readonly series: readonly Series[];
  readonly words: string;
  readonly notes?: readonly Note[];
}

export function lessonPlot({ notes = [], ...plot }: LessonPlot): CurveFigure {
  return { kind: 'curves', id: 'lesson', bands: [], limits: [], notes, ...plot };
}

/** dB either way that a deviation's figure shows at least. */
const usual = { low: -15, high: 6 };

/** Deviation over frequency, with room for a mark anywhere near `values`. */
export function deviationPlot(
  title: string,
  series: readonly Series[],
  values: readonly number[],
  words: string,
): CurveFigure {
  const low = Math.min(usual.low, ...values.map((value) => value - 2));
  const high = Math.max(usual.high, ...values.map((value) => value + 2));
  return lessonPlot({ title, x: hzAxis(), y: dbAxis(low, high), series, words });
}
