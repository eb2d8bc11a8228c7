import type { FittedString } from '@curvewright/verify';
import { inkReader, type PlateOptions } from './figure/plate.ts';
import { element, escaped } from './figure/svg-text.ts';

/** Pixels. */
const [margin, body, joint, line, height] = [64, 64, 48, 44, 76];
const bodyHeight = 20;
const band = 8;

/** A fitted string of diodes as SVG: anode on the left, every band towards the cathode, a sleeve over every joint. */
export function stringDrawing(
  { ref, members, anode, cathode }: FittedString,
  options: Pick<PlateOptions, 'ink'>,
): string {
  const ink = inkReader(options.ink);
  const start = (n: number): number => margin + n * (body + joint);
  const width = start(members.length) - joint + margin;
  const wire = (from: number, to: number): string =>
    element('path', { d: `M${from} ${line}L${to} ${line}`, stroke: ink('text'), 'stroke-width': 1.5 });
  const words = (x: number, y: number, content: string, anchor: string): string =>
    element('text', { x, y, fill: ink('text'), 'text-anchor': anchor }, escaped(content));
  const diodes = members.flatMap(({ type }, n) => [
    element('rect', {
      ...{ x: start(n), y: line - bodyHeight / 2, width: body, height: bodyHeight },
      ...{ stroke: ink('text'), 'stroke-width': 1.5 },
    }),
    element('rect', {
      ...{ x: start(n) + body - 2 * band, y: line - bodyHeight / 2, width: band, height: bodyHeight },
      fill: ink('text'),
    }),
    words(start(n) + body / 2, line - bodyHeight, type, 'middle'),
  ]);
  const sleeves = members.slice(1).map((_, n) =>
    element('rect', {
      ...{ x: start(n) + body + 4, y: line - 4, width: joint - 8, height: 8 },
      ...{ stroke: ink('found'), 'stroke-width': 1.5 },
    }),
  );
  return element(
    'svg',
    {
      ...{ xmlns: 'http://www.w3.org/2000/svg', class: 'figure figure-string', role: 'img', fill: 'none' },
      ...{ viewBox: `0 0 ${width} ${height}`, width, height, 'font-size': 12.5 },
      'font-family': options.ink === 'page' ? undefined : 'system-ui, sans-serif',
    },
    [
      element('title', {}, escaped(`String of diodes at ${ref}`)),
      element(
        'desc',
        {},
        escaped(
          `${members.length} in series from ${anode} to ${cathode}, every band towards ${cathode}, a sleeve over every joint`,
        ),
      ),
      wire(margin - 20, start(0)),
      ...members.slice(1).map((_, n) => wire(start(n) + body, start(n + 1))),
      wire(width - margin, width - margin + 20),
      ...diodes,
      ...sleeves,
      words(margin - 24, line + 4, anode, 'end'),
      words(width - margin + 24, line + 4, cathode, 'start'),
    ].join('\n'),
  );
}
