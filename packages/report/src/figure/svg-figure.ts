import type { Figure } from './figure.ts';
import { rowRoom, svgBars } from './svg-bars.ts';
import { svgCurves } from './svg-curves.ts';
import { plateOf, type PlateOptions } from './plate.ts';
import { sideRoom } from './svg-axes.ts';
import { element, escaped } from './svg-text.ts';

export type { PlateOptions } from './plate.ts';

/**
 * A figure as SVG that stands for itself: no script, no style sheet, no font, no id. Its colours are attributes, so that it may stand in a page
 * that forbids inline styles; the text equivalent is its title and description.
 */
export function svgFigure(figure: Figure, options: PlateOptions): string {
  const plate = plateOf(options, (size) => (figure.kind === 'bars' ? rowRoom(figure, size) : sideRoom(figure.y, size)));
  const { width, height, ink, text } = plate;
  const hasPaper = options.ink === 'light' || options.ink === 'dark';
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      class: `figure figure-${figure.id}`,
      role: 'img',
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      fill: 'none',
      'font-size': text,
      'font-family': options.ink === 'page' ? undefined : 'system-ui, sans-serif',
    },
    [
      element('title', {}, escaped(figure.title)),
      element('desc', {}, escaped(figure.words)),
      ...(hasPaper ? [element('rect', { width, height, fill: ink('paper') })] : []),
      ...(options.titled
        ? [
            element(
              'text',
              { x: 0, y: plate.titleAt, fill: ink('text'), 'font-size': plate.title, 'font-weight': 600 },
              escaped(figure.title),
            ),
          ]
        : []),
      ...(figure.kind === 'curves' ? svgCurves(figure, plate) : svgBars(figure, plate)),
    ].join('\n'),
  );
}
