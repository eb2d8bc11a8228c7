import { limitDashes } from './figure-style.ts';
import type { CurveFigure, LimitLine } from './figure.ts';
import type { Plate } from './plate.ts';
import type { Places } from './svg-axes.ts';
import { element, escaped, textWidth } from './svg-text.ts';

/** The hairline, and its value on it where that has room; what lies outside the plot is left to the words. */
export function svgLimit(
  plate: Plate,
  { across, up }: Places,
  { x, y }: CurveFigure,
  limit: LimitLine,
): readonly string[] {
  const { value, from, to, side, level, text, short } = limit;
  if (value > y.to || value < y.from || to <= x.from || from >= x.to) return [];
  const [start, end, height] = [across(Math.max(from, x.from)), across(Math.min(to, x.to)), up(value)];
  const size = plate.text - 1.5;
  const written = [text, short].find((each) => textWidth(each, size) <= end - start);
  return [
    element('path', {
      d: `M${Math.round(start * 10) / 10} ${Math.round(height * 10) / 10}H${Math.round(end * 10) / 10}`,
      stroke: plate.ink('muted'),
      'stroke-width': 1,
      'stroke-dasharray': limitDashes[level].join(' '),
    }),
    ...(written === undefined
      ? []
      : [onLine(plate, written, size, (start + end) / 2, height + (side === 'upper' ? -3 : size))]),
  ];
}

function onLine({ ink }: Plate, text: string, size: number, x: number, y: number): string {
  return element('text', { x, y, fill: ink('muted'), 'font-size': size, 'text-anchor': 'middle' }, escaped(text));
}
