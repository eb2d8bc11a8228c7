import { flowText, isWrittenMap, scalarText, type Written, type WrittenMap } from './written.ts';
import type { WrittenPath } from './written-path.ts';

/** How a text stands where something new is put into it. */
export interface Layout {
  /** Of the keys of the mapping that holds it. */
  readonly column: number;
  /** Columns that one level stands further in than the one above. */
  readonly step: number;
  readonly lineBreak: string;
}

/** A key with its value, as a line or lines of a block. */
export function blockPair(path: WrittenPath, key: string, value: Written, layout: Layout): string {
  const name = scalarText(key, 'block');
  const below = [...path, key];
  return isLaidOut(below, value) ? `${name}:${laidOut(below, value, layout)}` : `${name}: ${flowText(value, 'block')}`;
}

/** Whether a mapping has a line for each key: the tables of a job have, and a position that says more than one thing. */
export function isLaidOut(path: WrittenPath, value: Written): value is WrittenMap {
  if (!isWrittenMap(value)) return false;
  const count = Object.keys(value).length;
  if (path.length === 1) return count > 0 && (path[0] === 'positions' || path[0] === 'limits');
  return path.length === 2 && path[0] === 'positions' && count > 1;
}

/** The lines of a mapping, each with its line break in front. */
export function laidOut(path: WrittenPath, value: WrittenMap, layout: Layout): string {
  const inner: Layout = { ...layout, column: layout.column + layout.step };
  return Object.entries(value)
    .map(([key, each]) => `${inner.lineBreak}${' '.repeat(inner.column)}${blockPair(path, key, each, inner)}`)
    .join('');
}
