import { isMap } from 'yaml';
import { readYaml } from '../read-yaml.ts';
import { addEntry } from './add-entry.ts';
import { firstChange, type Change } from './change.ts';
import { dropEntry } from './drop-entry.ts';
import { placeAmong } from './key-order.ts';
import { putValue } from './put-value.ts';
import { entriesOf, rangeOf, sourceOf, type Collection, type Source } from './source.ts';
import { spliced, type Splice } from './splice.ts';
import { collectionAt, keyOf, spotAt, type Spot } from './spot.ts';
import { valueAt, type WrittenPath } from './written-path.ts';
import { scalarText, type Written } from './written.ts';

/** More steps than any edit of a job takes. */
const stepLimit = 500;

/**
 * The text, changed so that it says `target`; every byte that says the same stays as it was. Each step is made on the
 * text that the one before it left. Null where the text holds its values in a form that cannot be changed alone.
 */
export function rewritten(text: string, target: Written): string | null {
  let current = text;
  for (let step = 0; step < stepLimit; step++) {
    const { value, diagnostics } = readYaml(current, '');
    if (value === undefined || diagnostics.length > 0) return null;
    // The reader hands on nothing but mappings, lists, texts and null.
    const change = firstChange(value as Written, target);
    if (change === null) return current;
    const source = sourceOf(current);
    const splices = source && splicesFor(source, change, target);
    if (splices === null) return null;
    const next = spliced(current, splices);
    if (next === current) return null;
    current = next;
  }
  return null;
}

/** The text with one key of a mapping called otherwise; null where it has no such key. */
export function renamedKey(text: string, path: WrittenPath, to: string): string | null {
  const source = sourceOf(text);
  const key = source && spotAt(source, path)?.entry?.key;
  const range = key ? rangeOf(key) : null;
  return range === null ? null : spliced(text, [{ from: range[0], to: range[1], text: scalarText(to, 'flow') }]);
}

function splicesFor(source: Source, change: Change, target: Written): readonly Splice[] | null {
  const spot = spotAt(source, change.path);
  if (spot === null) return null;
  const collection = collectionAt(spot);
  const isWhole = change.kind === 'replace' && spot.path.length === change.path.length;
  // Below an alias nothing can be changed for one place alone: the alias is written out.
  if (isWhole || collection === null) return putValue(source, spot, valueAt(target, spot.path) ?? null);
  return inside(source, spot, collection, change);
}

function inside(source: Source, spot: Spot, collection: Collection, change: Change): readonly Splice[] | null {
  const entries = entriesOf(source, collection);
  switch (change.kind) {
    case 'replace':
      return null;
    case 'addItem':
      return addEntry(source, spot, collection, change.index, { key: null, value: change.value });
    case 'addKey': {
      if (!isMap(collection)) return null;
      const keys = entries.map(keyOf);
      const index = placeAmong(change.path, keys, change.key) ?? keys.indexOf(change.above ?? '') + 1;
      return addEntry(source, spot, collection, index, change);
    }
    case 'drop': {
      const { at } = change;
      const index = typeof at === 'number' ? at : entries.findIndex((entry) => keyOf(entry) === at);
      return dropEntry(source, spot, collection, index);
    }
  }
}
