import { designatorsOf } from '../expand-part.ts';
import { isWrittenMap, type Written, type WrittenMap } from './written.ts';
import { withoutKey } from './written-path.ts';

/** What stands under `positions`, by key: a pair, or a single designator that goes over it. */
export type Positions = Readonly<Record<string, WrittenMap>>;

/** Positions after an edit. */
export interface EditedPositions {
  readonly positions: Positions;
  /** A key whose entry now stands under another one, as it was or changed. */
  readonly renamed?: { readonly from: string; readonly to: string };
}

/** The pair key that speaks for these designators too; null where each is written alone, if at all. */
export function pairFor(positions: Positions, refs: readonly string[]): string | null {
  const holdsAll = (key: string): boolean => refs.every((ref) => designatorsOf(key).includes(ref));
  return Object.keys(positions).find((key) => designatorsOf(key).length > 1 && holdsAll(key)) ?? null;
}

export function says(positions: Positions, key: string, top: string): boolean {
  return Object.hasOwn(positions[key] ?? {}, top);
}

/** With `value` under `top` of a key; a key that is new stands behind its pair, or at the end. */
export function withTop(positions: Positions, key: string, top: string, value: Written): Positions {
  return withEntry(positions, key, { ...positions[key], [top]: value });
}

export function withoutTop(positions: Positions, key: string, top: string): Positions {
  const entry = positions[key];
  return entry === undefined ? positions : { ...positions, [key]: withoutKey(entry, top) };
}

export function withEntry(positions: Positions, key: string, entry: WrittenMap): Positions {
  const pair = Object.hasOwn(positions, key) ? null : pairFor(positions, designatorsOf(key));
  if (pair === null) return { ...positions, [key]: entry };
  return Object.fromEntries(
    Object.entries(positions).flatMap((each) => (each[0] === pair ? [each, [key, entry] as const] : [each])),
  );
}

export function without(positions: Positions, keys: readonly string[]): Positions {
  return Object.fromEntries(Object.entries(positions).filter(([key]) => !keys.includes(key)));
}

/**
 * The members of a pair, each written alone with what the pair said of it. Where `leaving` leave one member behind that
 * had no entry of its own, the pair's entry becomes that member's.
 */
export function apart(positions: Positions, pair: string, leaving: readonly string[]): EditedPositions {
  const refs = designatorsOf(pair);
  const staying = refs.filter((ref) => !leaving.includes(ref));
  const [heir] = staying;
  const renamed =
    heir !== undefined && staying.length === 1 && !Object.hasOwn(positions, heir)
      ? { renamed: { from: pair, to: heir } }
      : {};
  const said = positions[pair] ?? {};
  const missing = refs.filter((ref) => !Object.hasOwn(positions, ref));
  const entries = Object.entries(positions).flatMap(([key, entry]): (readonly [string, WrittenMap])[] => {
    if (key === pair) return missing.map((ref) => [ref, said]);
    return [[key, refs.includes(key) ? { ...said, ...entry } : entry]];
  });
  return { positions: Object.fromEntries(entries), ...renamed };
}

/** What a file writes under `positions`, an empty entry as one without keys; or the key whose entry has no keys at all. */
export function positionsFrom(
  written: Written | undefined,
): { readonly positions: Positions } | { readonly strange: string | null } {
  if (written === undefined || written === null) return { positions: {} };
  if (!isWrittenMap(written)) return { strange: null };
  const entries: [string, WrittenMap][] = [];
  for (const [key, entry] of Object.entries(written)) {
    if (entry !== null && !isWrittenMap(entry)) return { strange: key };
    entries.push([key, entry ?? {}]);
  }
  return { positions: Object.fromEntries(entries) };
}
