import type { JSX } from 'preact';
import { useEffect, useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import { inks, type CurveFigure } from '@curvewright/report';
import type { Plotly } from './load-plotly.ts';
import { movingLook } from './moving.ts';
import { MovingLines } from './moving-lines.tsx';
import { plotArea } from './plot-area.ts';
import { plotLayout } from './plot-layout.ts';
import { plotTraces, type Ink } from './plot-traces.ts';

interface LivePlotProps {
  readonly plotly: Plotly;
  readonly figure: CurveFigure;
  readonly levels: readonly ArrayLike<number>[] | null;
  readonly width: number;
  readonly paper: 'light' | 'dark';
}

/** Nothing is dragged or zoomed, so that a finger on it scrolls the page. */
const config = { displayModeBar: false, scrollZoom: false, doubleClick: false, responsive: false } as const;

/** The figure drawn by Plotly: reads every line at the pointer's place. It follows at rest; `levels` are drawn over it. */
export function LivePlot({ plotly, figure, levels, width, paper }: LivePlotProps): JSX.Element {
  const place = useRef<HTMLDivElement>(null);
  const area = useMemo(() => plotArea(width), [width]);
  const ink: Ink = useMemo(() => (name) => inks[name][paper], [paper]);
  useLayoutEffect(() => {
    if (place.current === null) return;
    const { fontFamily } = getComputedStyle(place.current);
    const traces = plotTraces(figure, area, ink, movingLook(figure));
    void plotly.react(place.current, traces, plotLayout(figure, area, ink, fontFamily), config);
  }, [plotly, figure, area, ink]);
  useEffect(() => {
    const element = place.current;
    return () => {
      if (element !== null) plotly.purge(element);
    };
  }, [plotly]);
  return (
    <div class={levels === null ? 'live-plot' : 'live-plot is-moving'} aria-hidden="true">
      <div ref={place} />
      {levels !== null && <MovingLines figure={figure} levels={levels} area={area} ink={ink} />}
    </div>
  );
}
