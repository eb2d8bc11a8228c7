import { bandShare, lookStyles, secondLine, type Look } from './figure-style.ts';
import type { BarFigure, BarRow } from './figure.ts';
import type { Plate } from './plate.ts';
import { shareAlong } from './scales.ts';
import { footAxis, label } from './svg-axes.ts';
import { svgKey } from './svg-key.ts';
import { element, escaped, textWidth } from './svg-text.ts';

/** Pixels that the rows' names take. */
export function rowRoom({ rows }: BarFigure, text: number): number {
  return 16 + Math.max(0, ...rows.map(({ label }) => textWidth(label, text)));
}

/** Thickest bar, and least room between two of a row, in pixels. */
const thickest = 9;
const between = 5;

export function svgBars({ axis, look, names, rows }: BarFigure, plate: Plate): readonly string[] {
  const { left, right, top, bottom, text, ink } = plate;
  const across = (value: number): number => left + shareAlong(axis, value) * (right - left);
  const pitch = (bottom - top - 8) / Math.max(1, rows.length);
  const slot = Math.min(thickest + between, (pitch - 3) / names.length);
  const thickness = Math.max(2, slot - between);
  const rowAt = ({ label: name, values, texts }: BarRow, middle: number): readonly string[] => [
    label(plate, left - 8, middle + text * 0.35, 'end', name),
    ...values.flatMap((value, c) => {
      const y = middle + (c - (values.length - 1) / 2) * slot;
      return bar(plate, look, c > 0, [left, across(value)], y, thickness);
    }),
    element(
      'text',
      { x: across(Math.max(...values)) + 7, y: middle + text * 0.35, fill: ink('text') },
      escaped([...new Set(texts)].join(', ')),
    ),
  ];
  return [
    ...svgKey(
      names.map((name, c) => ({
        text: name,
        sample: (x, y, width) => bar(plate, look, c > 0, [x, x + width], y, thickness),
      })),
      plate,
    ),
    ...footAxis(plate, axis, across),
    ...rows.flatMap((row, n) => rowAt(row, top + 4 + (n + 0.5) * pitch)),
  ];
}

/** Drawn is a thin bar, found an open one, rebuilt a full one; the second channel's has a fine line under it. */
function bar(
  { ink }: Plate,
  look: Look,
  double: boolean,
  [from, to]: readonly [number, number],
  y: number,
  thickness: number,
): readonly string[] {
  const style = lookStyles[look];
  const colour = ink(style.ink);
  const isOpen = style.dash.length > 0;
  const height = look === 'drawn' ? thickness / 2 : thickness;
  const below = y + height / 2 + secondLine.gap;
  return [
    element('rect', {
      ...{ x: from, y: y - height / 2, width: Math.max(0.5, to - from), height, fill: colour },
      ...(isOpen ? { 'fill-opacity': bandShare, stroke: colour } : {}),
    }),
    ...(double
      ? [
          element('rect', {
            ...{ x: from, y: below, width: Math.max(0.5, to - from) },
            ...{ height: secondLine.width, fill: colour },
          }),
        ]
      : []),
  ];
}
