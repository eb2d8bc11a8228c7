import { isAlias, isMap, isScalar, isSeq } from 'yaml';
import { entriesOf, isFlow, type Collection, type Entry, type Source } from './source.ts';
import type { WrittenPath } from './written-path.ts';

/** Where a value is written. */
export interface Spot {
  readonly path: WrittenPath;
  readonly value: unknown;
  /** What holds the value; null for the root of the file. */
  readonly entry: Entry | null;
  /** Whether it stands inside brackets. */
  readonly inFlow: boolean;
}

/**
 * The spot at `path`, or that of an alias above it: nothing below an alias can be changed for one place alone. Null
 * where the text has no such path.
 */
export function spotAt(source: Source, path: WrittenPath): Spot | null {
  let spot: Spot = { path: [], value: source.root, entry: null, inFlow: false };
  for (const step of path) {
    if (isAlias(spot.value)) return spot;
    const collection = collectionAt(spot);
    if (collection === null) return null;
    const entries = entriesOf(source, collection);
    const entry = typeof step === 'number' ? entries[step] : entries.find((each) => keyOf(each) === step);
    if (entry === undefined) return null;
    spot = { path: [...spot.path, step], value: entry.value, entry, inFlow: spot.inFlow || isFlow(collection) };
  }
  return spot;
}

export function collectionAt({ value }: Spot): Collection | null {
  return isMap(value) || isSeq(value) ? value : null;
}

export function keyOf({ key }: Entry): string {
  return isScalar(key) ? String(key.value) : '';
}
