import { lookStyles } from './figure-style.ts';
import type { Note } from './figure.ts';
import { freePlace } from './free-place.ts';
import type { Plate } from './plate.ts';
import type { Places } from './svg-axes.ts';
import type { Point } from './svg-lines.ts';
import { element, overLines, textWidth } from './svg-text.ts';

/** A ring on the line, and its words at one of its corners. */
export function svgNote(plate: Plate, places: Places, lines: readonly Point[], note: Note): readonly string[] {
  const { ink, left, right, top, bottom, text: size } = plate;
  const [h, v] = [places.across(note.x), places.up(note.y)];
  if (!(h >= left && h <= right && v >= top && v <= bottom)) return [];
  const before = h - 8 - textWidth(note.text, size);
  const place = freePlace(plate, lines, { text: note.text, size }, [
    { x: h + 8, y: v - 9 },
    { x: before, y: v - 9 },
    { x: h + 8, y: v + 8 + size },
    { x: before, y: v + 8 + size },
  ]);
  const ring = element('circle', {
    ...{ cx: h, cy: v, r: 3.5, fill: ink('paper') },
    ...{ stroke: ink(lookStyles[note.look].ink), 'stroke-width': 1.5 },
  });
  if (place === undefined) return [ring];
  // Words on the left end at the ring, however wide the font makes them.
  const [x, anchor] = place.x < h ? [h - 8, 'end' as const] : [place.x, 'start' as const];
  return [ring, overLines(plate, { text: note.text, size, ink: 'text', anchor }, x, place.y)];
}
