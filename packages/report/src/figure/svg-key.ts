import { bandShare, lookStyles, secondLine, type Look } from './figure-style.ts';
import type { CurveFigure } from './figure.ts';
import type { Plate } from './plate.ts';
import { stroke, svgMark } from './svg-lines.ts';
import { element, escaped, textWidth } from './svg-text.ts';

export interface KeyEntry {
  readonly text: string;
  /** What stands for it, about the height `y`. */
  sample(x: number, y: number, width: number): readonly string[];
}

/** Pixels of a sample, from it to its text, and between entries. */
const [sampleWidth, behindSample, between] = [28, 7, 18];

/** Entries in one line from the left edge of the plot; what has no room any more is left out. */
export function svgKey(entries: readonly KeyEntry[], { left, width, keyAt, text, ink }: Plate): readonly string[] {
  let next = left;
  return entries.flatMap((entry) => {
    const x = next;
    const end = x + sampleWidth + behindSample + textWidth(entry.text, text);
    next = end + between;
    if (end > width) return [];
    return [
      ...entry.sample(x, keyAt - text * 0.33, sampleWidth),
      element('text', { x: x + sampleWidth + behindSample, y: keyAt, fill: ink('text') }, escaped(entry.text)),
    ];
  });
}

/** The states, the channels where there are several, the bands. */
export function curveKey({ series, bands }: CurveFigure, plate: Plate): readonly string[] {
  const looks = new Map(series.map(({ look, label }) => [look, label]));
  const channels = new Map(
    series.flatMap(({ channel, double, look }) => (channel === null ? [] : [[channel, { double, look }] as const])),
  );
  return svgKey(
    [
      ...[...looks].map(([look, label]) => lineEntry(plate, look, label, false)),
      ...[...channels].map(([channel, { double, look }]) => lineEntry(plate, look, channel, double)),
      ...bands.map(({ look, name }): KeyEntry => ({
        text: name,
        sample: (x, y, width) => [
          element('rect', {
            ...{ x, y: y - 5, width, height: 10 },
            ...{ fill: plate.ink(lookStyles[look].ink), 'fill-opacity': bandShare },
          }),
        ],
      })),
    ],
    plate,
  );
}

function lineEntry(plate: Plate, look: Look, text: string, double: boolean): KeyEntry {
  const style = lookStyles[look];
  return {
    text,
    sample(x, y, width) {
      const level = (at: number): Parameters<typeof stroke>[3] => [
        [
          [x, at],
          [x + width, at],
        ],
      ];
      const above = y - style.width / 2 - secondLine.gap - secondLine.width / 2;
      return [
        ...(style.width === 0 ? [] : [stroke(plate, style, style.width, level(y))]),
        ...(double ? [stroke(plate, style, secondLine.width, level(above))] : []),
        ...(style.mark === null ? [] : [svgMark(plate, style, style.mark, x + width / 2, y)]),
      ];
    },
  };
}
