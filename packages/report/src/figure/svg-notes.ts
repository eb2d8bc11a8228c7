import { lookStyles } from './figure-style.ts';
import type { Note } from './figure.ts';
import type { Plate } from './plate.ts';
import type { Places } from './svg-axes.ts';
import { element, escaped, textWidth } from './svg-text.ts';

/** A ring on the line and its words beside it, over whatever the plot has there. */
export function svgNote(plate: Plate, { across, up }: Places, { look, x, y, text }: Note): readonly string[] {
  const { ink, left, right, top, bottom } = plate;
  const [h, v] = [across(x), up(y)];
  if (!(h >= left && h <= right && v >= top && v <= bottom)) return [];
  const isRoomRight = h + 8 + textWidth(text, plate.text) <= right;
  const isRoomAbove = v - 12 - plate.text >= top;
  return [
    element('circle', {
      ...{ cx: h, cy: v, r: 3.5, fill: ink('paper') },
      ...{ stroke: ink(lookStyles[look].ink), 'stroke-width': 1.5 },
    }),
    element(
      'text',
      {
        x: isRoomRight ? h + 7 : h - 7,
        y: isRoomAbove ? v - 9 : v + plate.text + 6,
        'text-anchor': isRoomRight ? undefined : 'end',
        ...{ fill: ink('text'), stroke: ink('paper'), 'stroke-width': 4, 'stroke-linejoin': 'round' },
        'paint-order': 'stroke',
      },
      escaped(text),
    ),
  ];
}
