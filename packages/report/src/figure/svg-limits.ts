import { limitDashes } from './figure-style.ts';
import type { CurveFigure, LimitLine } from './figure.ts';
import { freePlace } from './free-place.ts';
import type { Plate } from './plate.ts';
import type { Places } from './svg-axes.ts';
import type { Point } from './svg-lines.ts';
import { element, overLines, short, textWidth } from './svg-text.ts';

/** The hairline with its value on it; what lies outside the plot is left to the words. */
export function svgLimit(
  plate: Plate,
  places: Places,
  { x, y }: CurveFigure,
  lines: readonly Point[],
  limit: LimitLine,
): readonly string[] {
  const { value, from, to } = limit;
  if (value >= y.to || value <= y.from || to <= x.from || from >= x.to) return [];
  const line: Hairline = {
    start: places.across(Math.max(from, x.from)),
    end: places.across(Math.min(to, x.to)),
    height: places.up(value),
  };
  const size = plate.text - 1.5;
  const fitting = [limit.text, limit.short].find((text) => line.end - line.start > 2.5 * textWidth(text, size));
  return fitting === undefined ? shortLine(plate, lines, limit, line) : longLine(plate, limit, line, fitting);
}

interface Hairline {
  readonly start: number;
  readonly end: number;
  readonly height: number;
}

/** Where along a long hairline its value stands: good and look may lie close together. */
const shareOf = { good: 0.36, look: 0.64 } as const;

/** Interrupted by its words. */
function longLine(plate: Plate, limit: LimitLine, { start, end, height }: Hairline, text: string): readonly string[] {
  const size = plate.text - 1.5;
  const middle = start + shareOf[limit.level] * (end - start);
  const half = textWidth(text, size) / 2 + 2;
  return [
    hairline(plate, limit, height, [
      [start, middle - half],
      [middle + half, end],
    ]),
    overLines(plate, { text, size, ink: 'muted', anchor: 'middle' }, middle, height + size * 0.35),
  ];
}

/** Its value over or under it or at one of its ends. */
function shortLine(
  plate: Plate,
  lines: readonly Point[],
  limit: LimitLine,
  { start, end, height }: Hairline,
): readonly string[] {
  const word = { text: limit.short, size: plate.text - 1.5 };
  const width = textWidth(word.text, word.size);
  const centred = (start + end - width) / 2;
  const beside = height + word.size * 0.35;
  const over = { x: centred, y: height - 4 };
  const ends = [
    { x: end + 3, y: beside },
    { x: start - 3 - width, y: beside },
  ];
  const under = { x: centred, y: height + word.size + 1 };
  const candidates = limit.side === 'upper' ? [over, ...ends, under] : [...ends, under, over];
  const place = freePlace(plate, lines, word, candidates);
  return [
    hairline(plate, limit, height, [[start, end]]),
    ...(place === undefined
      ? []
      : [overLines(plate, { ...word, ink: 'muted', anchor: 'middle' }, place.x + width / 2, place.y)]),
  ];
}

function hairline(
  { ink }: Plate,
  { level }: LimitLine,
  height: number,
  pieces: readonly (readonly [number, number])[],
): string {
  return element('path', {
    d: pieces.map(([from, to]) => `M${short(from)} ${short(height)}H${short(to)}`).join(''),
    stroke: ink('muted'),
    'stroke-dasharray': limitDashes[level].join(' '),
  });
}
