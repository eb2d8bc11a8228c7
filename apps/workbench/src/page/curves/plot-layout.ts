import { limitDashes } from '@curvewright/report';
import type { Axis, CurveFigure, Tick } from '@curvewright/report';
import type { Layout, LayoutAxis, Shape } from 'plotly.js-dist-min';
import { plainText } from './plain-text.ts';
import type { PlotArea } from './plot-area.ts';
import { placeOn, plotTexts } from './plot-texts.ts';
import { dashOf, type Ink } from './plot-traces.ts';

const textSize = 12.5;

/** Axes, limits and notes of a figure as Plotly reads them: nothing to drag, zoom or switch. */
export function plotLayout(figure: CurveFigure, area: PlotArea, ink: Ink, family: string): Partial<Layout> {
  const { width, height, left, right, top, bottom } = area;
  const [across, up] = [right - left, bottom - top];
  return {
    ...{
      width,
      height,
      autosize: false,
      showlegend: false,
      dragmode: false,
      hovermode: 'x unified',
      hoverdistance: -1,
    },
    margin: { l: left, r: width - right, t: top, b: height - bottom, autoexpand: false },
    font: { family, size: textSize, color: ink('muted') },
    ...{ paper_bgcolor: 'transparent', plot_bgcolor: 'transparent' },
    hoverlabel: {
      bgcolor: ink('paper'),
      bordercolor: ink('muted'),
      font: { family, size: textSize, color: ink('text') },
    },
    xaxis: {
      ...axisOf(figure.x, roomFor(figure.x, across / 40), ink),
      unifiedhovertitle: { text: `%{x:.3~r} ${plainText(figure.x.unit)}` },
      ...{ showspikes: true, spikemode: 'across', spikethickness: 1, spikedash: 'solid', spikecolor: ink('muted') },
    },
    yaxis: axisOf(figure.y, roomFor(figure.y, up / 18), ink),
    shapes: figure.limits.map((limit) => limitLine(limit, ink)),
    annotations: plotTexts(figure, across, ink),
  };
}

/** The highest rank whose numbers all have room. */
function roomFor({ ticks }: Axis, most: number): Tick['rank'] {
  const ranks = [2, 1] as const;
  return ranks.find((rank) => ticks.filter((tick) => tick.rank <= rank).length <= most) ?? 0;
}

function axisOf(axis: Axis, rank: Tick['rank'], ink: Ink): Partial<LayoutAxis> {
  const { scale, from, to, ticks } = axis;
  return {
    ...{ type: scale, range: [placeOn(axis, from), placeOn(axis, to)], fixedrange: true, automargin: false },
    ...{ tickmode: 'array', tickvals: ticks.map(({ at }) => at) },
    ticktext: ticks.map((tick) => (tick.rank <= rank ? plainText(tick.text) : '')),
    ...{ gridcolor: ink('grid'), gridwidth: 0.7, ticks: '', tickangle: 0 },
    ...{ zeroline: scale === 'linear', zerolinecolor: ink('muted'), zerolinewidth: 0.8 },
  };
}

function limitLine({ level, value, from, to }: CurveFigure['limits'][number], ink: Ink): Partial<Shape> {
  const line = { color: ink('muted'), width: 1, dash: dashOf(limitDashes[level]) };
  return { type: 'line', layer: 'above', x0: from, x1: to, y0: value, y1: value, line };
}
