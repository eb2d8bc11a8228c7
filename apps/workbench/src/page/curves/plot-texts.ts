import { shareAlong, type Axis, type CurveFigure } from '@curvewright/report';
import type { Annotation } from 'plotly.js-dist-min';
import { plainText } from './plain-text.ts';
import type { Ink } from './plot-traces.ts';

type Limit = CurveFigure['limits'][number];

/** Pixels that a letter of a limit takes, on the generous side. */
const letter = 7;

/** What is written into the plot: the limits' values, the notes, the axes' units. `across`: pixels of the plot. */
export function plotTexts(figure: CurveFigure, across: number, ink: Ink): Partial<Annotation>[] {
  return [
    ...figure.limits.flatMap((limit) => limitText(figure, limit, across)),
    ...figure.notes.map((note) => noteText(figure, note, ink)),
    { ...unitText(figure.x.unit), x: 1, y: 0, xanchor: 'right', yanchor: 'top', xshift: 38, yshift: -2 },
    { ...unitText(figure.y.unit), x: 0, y: 1, xanchor: 'right', yanchor: 'bottom', xshift: -4, yshift: 2 },
  ];
}

/** In full where the line is long enough for it, else short, else left to the figure's words. */
function limitText(
  { x, y }: CurveFigure,
  { value, from, to, side, text, short }: Limit,
  across: number,
): Partial<Annotation>[] {
  if (value < y.from || value > y.to || to <= x.from || from >= x.to) return [];
  const [start, end] = [Math.max(from, x.from), Math.min(to, x.to)];
  const room = (shareAlong(x, end) - shareAlong(x, start)) * across;
  const written = [text, short].find((each) => each.length * letter <= room);
  if (written === undefined) return [];
  const middle = (shareAlong(x, start) + shareAlong(x, end)) / 2;
  return [
    {
      ...{
        text: plainText(written),
        showarrow: false,
        font: { size: 11 },
        xref: 'paper',
        x: middle,
        y: placeOn(y, value),
      },
      ...{ yanchor: side === 'upper' ? 'bottom' : 'top', borderpad: 0 },
    },
  ];
}

function noteText({ x, y }: CurveFigure, note: CurveFigure['notes'][number], ink: Ink): Partial<Annotation> {
  const isRight = shareAlong(x, note.x) > 0.6;
  return {
    ...{ text: plainText(note.text), showarrow: false, font: { color: ink('text') }, bgcolor: ink('paper') },
    ...{ x: placeOn(x, note.x), y: placeOn(y, note.y), xanchor: isRight ? 'right' : 'left', yanchor: 'bottom' },
    ...{ xshift: isRight ? -7 : 7, yshift: 4, borderpad: 1 },
  };
}

function unitText(unit: string): Partial<Annotation> {
  return { text: plainText(unit), xref: 'paper', yref: 'paper', showarrow: false };
}

/** Plotly places what is written on a logarithmic axis by the exponent. */
export function placeOn({ scale }: Axis, value: number): number {
  return scale === 'log' ? Math.log10(value) : value;
}
