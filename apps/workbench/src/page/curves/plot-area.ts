import { shareAlong, type CurveFigure } from '@curvewright/report';

/** Where the lines of a live figure stand in it, CSS pixels from its upper left corner. */
export interface PlotArea {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Half as high as it is wide, within what can be read on a phone and seen at once on a screen. */
export function plotArea(width: number): PlotArea {
  const height = Math.min(460, Math.max(240, Math.round(width / 2)));
  return { width, height, left: 46, right: width - 40, top: 22, bottom: height - 30 };
}

/** Pixels across and down of a point of the figure. */
export function placeIn(
  { left, right, top, bottom }: PlotArea,
  { x, y }: Pick<CurveFigure, 'x' | 'y'>,
  point: { readonly x: number; readonly y: number },
): readonly [across: number, down: number] {
  return [left + shareAlong(x, point.x) * (right - left), bottom - shareAlong(y, point.y) * (bottom - top)];
}

/** The figure's value at a height in pixels. */
export function valueAtHeight({ top, bottom }: PlotArea, { y }: Pick<CurveFigure, 'y'>, down: number): number {
  const share = (bottom - down) / (bottom - top);
  return y.scale === 'log' ? y.from * (y.to / y.from) ** share : y.from + share * (y.to - y.from);
}
