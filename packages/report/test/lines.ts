import { cellsOf } from '../src/cells.ts';

const escape = String.fromCharCode(27);
const colours = new RegExp(`${escape}\\[[0-9;]*m`, 'g');

export function hasColour(text: string): boolean {
  return text.includes(escape);
}

export function withoutColour(text: string): string {
  return text.replace(colours, '');
}

/** Cells of the widest line. */
export function widestOf(text: string): number {
  return Math.max(...text.split('\n').map(cellsOf));
}

/** The one line that holds the text; throws where there is none or more than one. */
export function lineWith(page: string, text: string): string {
  const found = page.split('\n').filter((line) => line.includes(text));
  if (found.length !== 1) throw new Error(`${found.length} lines hold ${text}`);
  return found[0]!;
}
