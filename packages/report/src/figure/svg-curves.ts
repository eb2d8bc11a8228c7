import type { CurveFigure } from './figure.ts';
import { tracedLines } from './free-place.ts';
import type { Plate } from './plate.ts';
import { footAxis, placesOf, sideAxis } from './svg-axes.ts';
import { curveKey } from './svg-key.ts';
import { svgBand, svgSeries } from './svg-lines.ts';
import { svgLimit } from './svg-limits.ts';
import { svgNote } from './svg-notes.ts';
import { element } from './svg-text.ts';

export function svgCurves(figure: CurveFigure, plate: Plate): readonly string[] {
  const places = placesOf(plate, figure.x, figure.y);
  const lines = tracedLines(plate, places, figure);
  const { left, top, right, bottom } = plate;
  const [width, height] = [right - left, bottom - top];
  // A nested picture clips what leaves the plot, and needs no id for it.
  const clipped = (content: readonly string[]): readonly string[] =>
    content.length === 0
      ? []
      : [
          element(
            'svg',
            { x: left, y: top, width, height, viewBox: `${left} ${top} ${width} ${height}` },
            content.join('\n'),
          ),
        ];
  return [
    ...curveKey(figure, plate),
    ...footAxis(plate, figure.x, places.across),
    ...sideAxis(plate, figure.y, places.up),
    ...clipped(figure.bands.map((band) => svgBand(plate, places, band))),
    ...figure.limits.flatMap((limit) => svgLimit(plate, places, figure, lines, limit)),
    ...clipped(figure.series.flatMap((series) => svgSeries(plate, places, series))),
    ...figure.notes.flatMap((note) => svgNote(plate, places, lines, note)),
  ];
}
