import { bandShare, lookStyles, secondLine, type LookStyle } from './figure-style.ts';
import type { Band, CurveFigure } from './figure.ts';
import type { Plate } from './plate.ts';
import { stroke, svgMark } from './svg-lines.ts';
import { element, escaped, short, textWidth } from './svg-text.ts';

export interface KeyEntry {
  readonly text: string;
  /** What stands for it, about the height `y`. */
  sample(x: number, y: number, width: number): readonly string[];
}

/** Entries in one line; what has no room any more is left out. */
export function svgKey(entries: readonly KeyEntry[], { width, keyAt, text, ink }: Plate): readonly string[] {
  const [sampleWidth, behindSample, between] = [text * 1.9, text * 0.45, text];
  let next = 0;
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

/** The states, the channels where there are several, the curve that they are held against, the bands. */
export function curveKey({ series, bands }: CurveFigure, plate: Plate): readonly string[] {
  const looks = [...new Map(series.map(({ look, label }) => [look, label]))];
  const channels = [...new Map(series.flatMap(({ channel, double }) => (channel === null ? [] : [[channel, double]])))];
  const lines = (isTarget: boolean): readonly KeyEntry[] =>
    looks
      .filter(([look]) => (look === 'target') === isTarget)
      .map(([look, label]) => lineEntry(plate, lookStyles[look], label, false));
  return svgKey(
    [
      ...lines(false),
      ...channels.map(([channel, double]) => lineEntry(plate, anyState, channel, double)),
      ...lines(true),
      ...bands.map((band) => bandEntry(plate, band)),
    ],
    plate,
  );
}

/** What tells channels apart is the same in every state. */
const anyState: LookStyle = { ink: 'text', width: 1.75, dash: [], mark: null };

function bandEntry({ ink, text: size }: Plate, { look, name }: Band): KeyEntry {
  return {
    text: name,
    sample: (x, y, width) => [
      element('rect', {
        ...{ x, y: y - size * 0.4, width, height: size * 0.8 },
        ...{ fill: ink(lookStyles[look].ink), 'fill-opacity': bandShare },
      }),
    ],
  };
}

function lineEntry(plate: Plate, style: LookStyle, text: string, double: boolean): KeyEntry {
  return {
    text,
    sample(x, y, width) {
      const above = y - style.width / 2 - secondLine.gap - secondLine.width / 2;
      const level = (at: number): string => `M${short(x)} ${short(at)}h${short(width)}`;
      return [
        ...(style.width === 0 ? [] : [stroke(plate, style, style.width, level(y))]),
        ...(double ? [stroke(plate, style, secondLine.width, level(above))] : []),
        ...(style.mark === null ? [] : [svgMark(plate, style, style.mark, x + width / 2, y)]),
      ];
    },
  };
}
