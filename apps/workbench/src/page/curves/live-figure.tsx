import type { JSX } from 'preact';
import { useMemo, useRef } from 'preact/hooks';
import type { CurveFigure } from '@curvewright/report';
import { FigureKey } from './figure-key.tsx';
import { LivePlot } from './live-plot.tsx';
import { movedFigure } from './moving.ts';
import { StaticPlate } from './static-plate.tsx';
import { usePaper } from './use-paper.ts';
import { usePlotly } from './use-plotly.ts';
import { useWidth } from './use-width.ts';

interface LiveFigureProps {
  readonly figure: CurveFigure;
  /** What the lines of the last state are under the hand, by channel over the same x; null at rest. */
  readonly levels: readonly ArrayLike<number>[] | null;
}

/** The static plate until Plotly has come, and in print and for the ear after that too. */
export function LiveFigure({ figure, levels }: LiveFigureProps): JSX.Element {
  const plotly = usePlotly();
  const place = useRef<HTMLDivElement>(null);
  const width = useWidth(place);
  const paper = usePaper();
  const isLive = plotly !== null && width > 0;
  const still = useMemo(
    () => (isLive || levels === null ? figure : movedFigure(figure, levels)),
    [figure, isLive, isLive ? null : levels],
  );
  return (
    <div ref={place} class={isLive ? 'live-figure is-live' : 'live-figure'}>
      <StaticPlate figure={still} size="full" />
      {isLive && (
        <>
          <FigureKey figure={figure} />
          <LivePlot plotly={plotly} figure={figure} levels={levels} width={width} paper={paper} />
        </>
      )}
    </div>
  );
}
