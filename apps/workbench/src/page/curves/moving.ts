import type { CurveFigure, Look, Series } from '@curvewright/report';

/** The look of the lines that a hand can move: the last state's. */
export function movingLook({ series }: CurveFigure): Look | null {
  return series.at(-1)?.look ?? null;
}

/** The lines under the hand, `levels` by channel in place of what they last were at rest. */
export function movedSeries(figure: CurveFigure, levels: readonly ArrayLike<number>[]): readonly Series[] {
  const look = movingLook(figure);
  return figure.series
    .filter((series) => series.look === look)
    .map((series, channel) => ({ ...series, y: levels[channel] ?? series.y }));
}

export function movedFigure(figure: CurveFigure, levels: readonly ArrayLike<number>[]): CurveFigure {
  const look = movingLook(figure);
  return {
    ...figure,
    series: [...figure.series.filter((series) => series.look !== look), ...movedSeries(figure, levels)],
  };
}
