import { isSeq } from 'yaml';
import { blockPair, isLaidOut } from './layout.ts';
import { putValue } from './put-value.ts';
import {
  entriesOf,
  isFlow,
  layoutAt,
  lineEnd,
  lineStart,
  rangeOf,
  type Collection,
  type Entry,
  type Source,
} from './source.ts';
import type { Splice } from './splice.ts';
import type { Spot } from './spot.ts';
import { tailEnd } from './tail.ts';
import { flowPair, flowText, type Written } from './written.ts';

/** A key with its value for a mapping, or a value alone for a list. */
export interface NewEntry {
  readonly key: string | null;
  readonly value: Written;
}

/** Writes a new entry behind the first `index` entries of a mapping or list. */
export function addEntry(
  source: Source,
  spot: Spot,
  collection: Collection,
  index: number,
  added: NewEntry,
): readonly Splice[] | null {
  const entries = entriesOf(source, collection);
  if (!isFlow(collection)) return intoBlock(source, spot, entries, index, added);
  if (added.key !== null && entries.length === 0 && !spot.inFlow && spot.entry?.opened) {
    const whole = { [added.key]: added.value };
    const inside = source.text.slice(spot.entry.opened, spot.entry.end);
    if (isLaidOut(spot.path, whole) && !inside.includes('#')) return putValue(source, spot, whole);
  }
  const piece = added.key === null ? flowText(added.value, 'flow') : flowPair(added.key, added.value);
  const previous = entries[index - 1];
  if (previous !== undefined) return behind(source.text, previous, piece);
  const [first] = entries;
  if (first !== undefined) return [{ from: first.start, to: first.start, text: `${piece}, ` }];
  return intoEmptyBrackets(source.text, collection, piece);
}

function intoBlock(
  source: Source,
  spot: Spot,
  entries: readonly Entry[],
  index: number,
  { key, value }: NewEntry,
): readonly Splice[] | null {
  const [first] = entries;
  if (first === undefined) return null;
  const { text } = source;
  const layout = layoutAt(source, first.start);
  const piece = key === null ? `- ${flowText(value, 'block')}` : blockPair(spot.path, key, value, layout);
  const indent = ' '.repeat(layout.column);
  const previous = entries[index - 1];
  const opened = spot.entry?.opened ?? null;
  const above = previous ? tailEnd(text, previous) : opened === null ? null : lineEnd(text, opened);
  if (above === null || (previous === undefined && above > first.start)) {
    return [{ from: first.start, to: first.start, text: piece + layout.lineBreak + indent }];
  }
  return [{ from: above, to: above, text: layout.lineBreak + indent + piece }];
}

/** Entries that stand one a line get one more line; others are continued where they end. */
function behind(text: string, previous: Entry, piece: string): readonly Splice[] {
  const indent = text.slice(lineStart(text, previous.start), previous.start);
  const comma = /^\s*,/.exec(text.slice(previous.end))?.[0].length ?? 0;
  const end = lineEnd(text, previous.end + comma);
  const rest = text.slice(previous.end + comma, end);
  if (!/^ *$/.test(indent) || !/^\s*(#.*)?$/.test(rest) || end === text.length) {
    return [{ from: previous.end, to: previous.end, text: `, ${piece}` }];
  }
  const line = { from: end, to: end, text: `${text[end] === '\r' ? '\r\n' : '\n'}${indent}${piece}` };
  return comma > 0 ? [{ ...line, text: `${line.text},` }] : [{ from: previous.end, to: previous.end, text: ',' }, line];
}

function intoEmptyBrackets(text: string, collection: Collection, piece: string): readonly Splice[] | null {
  const range = rangeOf(collection);
  if (range === null) return null;
  const [from, to] = range;
  const inside = text.slice(from + 1, to - 1);
  // A comment inside ends with its line, so that there is one free in front of the closing bracket.
  if (inside.includes('#')) return [{ from: to - 1, to: to - 1, text: `${piece} ` }];
  return [{ from, to, text: isSeq(collection) ? `[${piece}]` : `{ ${piece} }` }];
}
