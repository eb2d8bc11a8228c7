import type { JSX } from 'preact';
import { lookStyles, secondLine, type CurveFigure, type Series } from '@curvewright/report';
import { fineLine } from './fine-line.ts';
import { movedSeries } from './moving.ts';
import { placeIn, type PlotArea } from './plot-area.ts';
import type { Ink } from './plot-traces.ts';

interface MovingLinesProps {
  readonly figure: CurveFigure;
  readonly levels: readonly ArrayLike<number>[];
  readonly area: PlotArea;
  readonly ink: Ink;
}

/** The lines under the hand, over the plot: a path is redrawn within a frame, which Plotly's own lines are not. */
export function MovingLines({ figure, levels, area, ink }: MovingLinesProps): JSX.Element {
  const { width, height, left, right, top, bottom } = area;
  const [across, down] = [right - left, bottom - top];
  return (
    <svg class="moving-lines" width={width} height={height} fill="none" aria-hidden="true">
      <svg x={left} y={top} width={across} height={down} viewBox={`${left} ${top} ${across} ${down}`}>
        {movedSeries(figure, levels).map((series) => {
          const style = lookStyles[series.look];
          const common = {
            ...{ stroke: ink(style.ink), 'stroke-linejoin': 'round' as const },
            ...(style.dash.length === 0 ? {} : { 'stroke-dasharray': style.dash.join(' ') }),
          };
          return [
            <path {...common} stroke-width={style.width} d={pathOf(figure, area, series)} />,
            series.double && (
              <path
                {...common}
                stroke-width={secondLine.width}
                d={pathOf(figure, area, { x: series.x, y: fineLine(area, figure, series) })}
              />
            ),
          ];
        })}
      </svg>
    </svg>
  );
}

/** Interrupted where a point has no number; in tenths of a pixel. */
function pathOf(figure: CurveFigure, area: PlotArea, { x, y }: Pick<Series, 'x' | 'y'>): string {
  let path = '';
  let pen = 'M';
  for (let i = 0; i < x.length; i++) {
    const [across, down] = placeIn(area, figure, { x: x[i] ?? NaN, y: y[i] ?? NaN });
    if (!Number.isFinite(across) || !Number.isFinite(down)) {
      pen = 'M';
      continue;
    }
    path += `${pen}${Math.round(10 * across) / 10} ${Math.round(10 * down) / 10}`;
    pen = 'L';
  }
  return path;
}
