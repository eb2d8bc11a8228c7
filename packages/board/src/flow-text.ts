import { isScalar, type Pair, type YAMLMap } from 'yaml';

/** A key and its value; `text` is the value where a comma cuts the plain text that was meant, `end` the offset behind it. */
export interface FlowPair {
  readonly pair: Pair;
  readonly text?: string;
  readonly end?: number;
}

/**
 * The pairs of a mapping, with text put together again that YAML cuts at its commas: in `{ why: worn, left in }` and
 * `{ value: 4,7 kΩ }` what follows the comma would be a key without a value, which no file of ours has. Only plain text
 * on one line is joined.
 */
export function flowPairs(map: YAMLMap, source: string): readonly FlowPair[] {
  if (map.flow !== true) return map.items.map((pair) => ({ pair }));
  const pairs: FlowPair[] = [];
  for (const pair of map.items) {
    const last = pairs.at(-1);
    const meant = last === undefined || pair.value !== null ? null : joined(last.pair.value, pair.key, source);
    if (last === undefined || meant === null) pairs.push({ pair });
    else pairs[pairs.length - 1] = { pair: last.pair, ...meant };
  }
  return pairs;
}

/** The source from the beginning of a plain value to the end of a plain key behind it; null where they do not make one line. */
function joined(value: unknown, key: unknown, source: string): { readonly text: string; readonly end: number } | null {
  if (!isScalar(value) || !isScalar(key) || value.type !== 'PLAIN' || key.type !== 'PLAIN') return null;
  const from = value.range?.[0];
  const end = key.range?.[1];
  if (value.value === '' || from === undefined || end === undefined) return null;
  const text = source.slice(from, end);
  return /[\n\r#]/.test(text) ? null : { text, end };
}
