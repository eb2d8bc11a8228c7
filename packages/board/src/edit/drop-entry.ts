import { isSeq } from 'yaml';
import {
  entriesOf,
  isFlow,
  lineEnd,
  lineStart,
  nextLine,
  rangeOf,
  type Collection,
  type Entry,
  type Source,
} from './source.ts';
import type { Splice } from './splice.ts';
import type { Spot } from './spot.ts';
import { tailEnd } from './tail.ts';

/**
 * Takes an entry out of a mapping or list, with the comments on its own lines and those below it that stand further in.
 * Comments above it stay: a heading may speak for what follows too. The last entry leaves empty brackets.
 */
export function dropEntry(source: Source, spot: Spot, collection: Collection, index: number): readonly Splice[] | null {
  const entries = entriesOf(source, collection);
  const entry = entries[index];
  if (entry === undefined) return null;
  return isFlow(collection)
    ? fromBrackets(source.text, collection, entries, index, entry)
    : fromBlock(source.text, spot, collection, entries.length === 1, entry);
}

function fromBlock(
  text: string,
  spot: Spot,
  collection: Collection,
  isOnly: boolean,
  entry: Entry,
): readonly Splice[] | null {
  const brackets = isSeq(collection) ? '[]' : '{}';
  const start = lineStart(text, entry.start);
  if (text.slice(start, entry.start).trim() !== '') {
    // Behind the dash of a list's item: what follows may begin on the next line as well.
    return [{ from: entry.start, to: entry.end, text: isOnly ? brackets : '' }];
  }
  const lines: Splice = { from: start, to: nextLine(text, tailEnd(text, entry)), text: '' };
  if (!isOnly) return [lines];
  const opened = spot.entry?.opened;
  return opened ? [{ from: opened, to: opened, text: ` ${brackets}` }, lines] : null;
}

function fromBrackets(
  text: string,
  collection: Collection,
  entries: readonly Entry[],
  index: number,
  entry: Entry,
): readonly Splice[] {
  const [from = 0, to = 0] = rangeOf(collection) ?? [];
  const outside = text.slice(from + 1, entry.start) + text.slice(entry.end, to - 1);
  if (entries.length === 1 && !outside.includes('#')) {
    return [{ from, to, text: isSeq(collection) ? '[]' : '{}' }];
  }
  const comma = /^\s*,/.exec(text.slice(entry.end))?.[0].length ?? 0;
  const end = entry.end + comma;
  const start = lineStart(text, entry.start);
  const isAlone =
    /^ *$/.test(text.slice(start, entry.start)) && /^\s*(#.*)?$/.test(text.slice(end, lineEnd(text, end)));
  if (isAlone) return [{ from: start, to: nextLine(text, end), text: '' }];

  const previous = entries[index - 1];
  const next = entries[index + 1];
  if (previous && !text.slice(previous.end, entry.start).includes('#')) {
    return [{ from: previous.end, to: entry.end, text: '' }];
  }
  const isFree = next && !text.slice(entry.end, next.start).includes('#');
  return [{ from: entry.start, to: isFree ? next.start : end, text: '' }];
}
