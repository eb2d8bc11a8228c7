import { textWidth } from '../figure/svg-text.ts';
import { square, type Box, type Spot, type Text, type Turn } from './scene.ts';
import type { SymbolKind } from './symbol-kind.ts';
import { span } from './symbols.ts';

/** Pixels of type on the drawing. */
export const typeSize = 11;

/** Squares between base lines. */
const lineStep = 1.25;
const ascent = 0.85;
const descent = 0.25;

/** Designators are set bold, which is so much wider. */
const boldWidth = 1.12;

/** A line of text at a spot, with the room that it takes. */
export function textAt(text: string, at: Spot, anchor: Text['anchor'], what: Text['what'], of: string): Text {
  const width = ((what === 'ref' ? boldWidth : 1) * textWidth(text, typeSize)) / square;
  const left = at.x - (anchor === 'start' ? 0 : anchor === 'middle' ? width / 2 : width);
  const box: Box = { left, right: left + width, top: at.y - ascent, bottom: at.y + descent };
  return { text, at, anchor, box, what, of };
}

/** A line of a part's caption: its designator first. */
export interface CaptionLine {
  readonly text: string;
  readonly what: Text['what'];
}

/** A part's lines where its symbol leaves room for them, for a symbol at the origin. */
export function captions(ref: string, kind: SymbolKind, turn: Turn, lines: readonly CaptionLine[]): readonly Text[] {
  const stacked = (x: number, middle: number): readonly Text[] =>
    lines.map(({ text, what }, n) => {
      const y = middle + (n - (lines.length - 1) / 2) * lineStep + 0.35;
      return textAt(text, { x, y }, 'start', what, ref);
    });
  const isUpright = turn.quarters % 2 === 1;
  switch (kind) {
    case 'opamp':
      return lines.map(({ text, what }, n) => textAt(text, { x: 2.6, y: 4.4 + n * lineStep }, 'start', what, ref));
    case 'npn':
    case 'pnp':
    case 'jfet-n':
    case 'jfet-p':
    case 'triode':
      return stacked(2.3, 0);
    case 'trimmer':
      // Beside its upper half: the wiper comes out of the middle.
      return isUpright ? stacked(2.4, 1.85 - ((lines.length - 1) / 2) * lineStep) : aboveMiddle(ref, lines, 3);
    default:
      if (isUpright) return stacked(1.5, (turn.quarters === 1 ? 1 : -1) * (span / 2));
      return aboveMiddle(ref, lines, (turn.quarters === 0 ? 1 : -1) * (span / 2));
  }
}

/** All lines above a symbol that lies: what hangs from its wire has the room below. */
function aboveMiddle(ref: string, lines: readonly CaptionLine[], middle: number): readonly Text[] {
  return lines.map(({ text, what }, n) => {
    const y = -1.5 - (lines.length - 1 - n) * lineStep;
    return textAt(text, { x: middle, y }, 'middle', what, ref);
  });
}
