import { lookStyles, secondLine, type CurveFigure, type Series } from '@curvewright/report';
import { placeIn, valueAtHeight, type PlotArea } from './plot-area.ts';

/** A second line is never further above the first than this many times its distance, however steep that runs. */
const steepest = 4;

/** The y of the fine line that marks the second channel: at its distance above the line, measured across it. */
export function fineLine(area: PlotArea, figure: CurveFigure, { look, x, y }: Series): readonly number[] {
  const beside = lookStyles[look].width / 2 + secondLine.gap + secondLine.width / 2;
  const places = Array.from(x, (at, i) => placeIn(area, figure, { x: at, y: y[i] ?? NaN }));
  return places.map(([across, down], i) => {
    const [before, after] = [places[i - 1] ?? [across, down], places[i + 1] ?? [across, down]];
    const slope = (after[1] - before[1]) / (after[0] - before[0] || 1);
    const above = beside * Math.min(steepest, Math.hypot(1, Number.isNaN(slope) ? 0 : slope));
    return valueAtHeight(area, figure, down - above);
  });
}
