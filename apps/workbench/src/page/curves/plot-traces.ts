import { bandShare, lookStyles, secondLine, seriesName } from '@curvewright/report';
import type { Band, CurveFigure, InkName, Look, Series } from '@curvewright/report';
import type { Dash, Data } from 'plotly.js-dist-min';
import { fineLine } from './fine-line.ts';
import type { PlotArea } from './plot-area.ts';
import { plainText } from './plain-text.ts';
import { valueText } from './value-text.ts';

/** A colour by the name of its ink. */
export type Ink = (name: InkName) => string;

/** The class that Plotly gives the lines of the state that can be moved begins with `trace` and this. */
const movable = 'movable';

/** Pixels between marks along x. */
const markDistance = 64;

/** The lines of a figure as Plotly reads them; those of `moves` can be told by their class. */
export function plotTraces(figure: CurveFigure, area: PlotArea, ink: Ink, moves: Look | null): Data[] {
  return [
    ...figure.bands.flatMap((band) => bandTraces(band, ink)),
    ...figure.series.flatMap((series, n) =>
      seriesTraces(figure, series, `${series.look === moves ? movable : 'line'}${n}`, area, ink),
    ),
    ...(figure.notes.length === 0 ? [] : [noteTrace(figure, ink)]),
  ];
}

function seriesTraces(figure: CurveFigure, series: Series, uid: string, area: PlotArea, ink: Ink): Data[] {
  const style = lookStyles[series.look];
  const colour = ink(style.ink);
  const x = Array.from(series.x);
  const marked = style.mark === null ? {} : { marker: markOf(style.mark, ink('paper'), colour, area) };
  const line: Data = {
    ...{ type: 'scatter', uid, x, y: Array.from(series.y), name: plainText(seriesName(series)) },
    mode: style.width === 0 ? 'markers' : style.mark === null ? 'lines' : 'lines+markers',
    line: { color: colour, width: style.width, dash: dashOf(style.dash) },
    ...marked,
    customdata: Array.from(series.y, (value) => plainText(valueText(value, figure.y))),
    hovertemplate: '%{customdata}',
  };
  if (!series.double || style.width === 0) return [line];
  const fine: Data = {
    ...{
      type: 'scatter',
      uid: `${uid}fine`,
      x,
      y: [...fineLine(area, figure, series)],
      mode: 'lines',
      hoverinfo: 'skip',
    },
    line: { color: colour, width: secondLine.width, dash: dashOf(style.dash) },
  };
  return [line, fine];
}

function markOf(
  mark: 'open square' | 'dot',
  paper: string,
  colour: string,
  { left, right }: PlotArea,
): Record<string, unknown> {
  return mark === 'dot'
    ? { symbol: 'circle', size: 6, color: colour, opacity: 1 }
    : {
        ...{ symbol: 'square', size: 6, color: paper, opacity: 1, line: { color: colour, width: 1.25 } },
        maxdisplayed: Math.round((right - left) / markDistance),
      };
}

function bandTraces({ look, x, low, high }: Band, ink: Ink): Data[] {
  const edge = { type: 'scatter', x: Array.from(x), mode: 'lines', line: { width: 0 }, hoverinfo: 'skip' } as const;
  const share = Math.round(bandShare * 255)
    .toString(16)
    .padStart(2, '0');
  return [
    { ...edge, y: Array.from(low) },
    { ...edge, y: Array.from(high), fill: 'tonexty', fillcolor: `${ink(lookStyles[look].ink)}${share}` },
  ];
}

function noteTrace({ notes }: CurveFigure, ink: Ink): Data {
  return {
    ...{ type: 'scatter', mode: 'markers', hoverinfo: 'skip' },
    ...{ x: notes.map(({ x }) => x), y: notes.map(({ y }) => y) },
    marker: {
      ...{ symbol: 'circle', size: 7, color: ink('paper'), opacity: 1 },
      line: { width: 1.5, color: notes.map(({ look }) => ink(lookStyles[look].ink)) },
    },
  };
}

export function dashOf(lengths: readonly number[]): Dash {
  // Plotly reads lengths as well as the names that its types know.
  return lengths.length === 0 ? 'solid' : (lengths.map((length) => `${length}px`).join(',') as Dash);
}
