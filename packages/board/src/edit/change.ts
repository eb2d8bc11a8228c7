import type { WrittenPath } from './written-path.ts';
import { isList, isWrittenMap, sameWritten, type Written } from './written.ts';

/** One step from what a file says to what it shall say, inside the value at `path`. */
export type Change =
  | { readonly kind: 'replace'; readonly path: WrittenPath; readonly value: Written }
  | {
      readonly kind: 'addKey';
      readonly path: WrittenPath;
      readonly key: string;
      readonly value: Written;
      /** The nearest key above it that is there already; null where it is the first. */
      readonly above: string | null;
    }
  | { readonly kind: 'addItem'; readonly path: WrittenPath; readonly index: number; readonly value: Written }
  /** `at` is a key or an index. */
  | { readonly kind: 'drop'; readonly path: WrittenPath; readonly at: string | number };

/**
 * The first of the steps that make `target` out of `now`, each as far down as can be; null where both say the same.
 * Keys are dropped last, so that a mapping is not emptied on the way.
 */
export function firstChange(now: Written, target: Written, path: WrittenPath = []): Change | null {
  if (sameWritten(now, target)) return null;
  if (isWrittenMap(now) && isWrittenMap(target)) {
    let above: string | null = null;
    for (const [key, value] of Object.entries(target)) {
      const there = Object.hasOwn(now, key) ? now[key] : undefined;
      if (there === undefined) return { kind: 'addKey', path, key, value, above };
      const change = firstChange(there, value, [...path, key]);
      if (change !== null) return change;
      above = key;
    }
    const at = Object.keys(now).find((key) => !Object.hasOwn(target, key));
    return at === undefined ? null : { kind: 'drop', path, at };
  }
  if (isList(now) && isList(target)) {
    const index = now.findIndex((item, each) => !sameWritten(item, target[each]));
    const at = index < 0 ? now.length : index;
    if (now.length > target.length) return { kind: 'drop', path, at };
    const value = target[at] ?? null;
    if (now.length < target.length) return { kind: 'addItem', path, index: at, value };
    return firstChange(now[at] ?? null, value, [...path, at]);
  }
  return { kind: 'replace', path, value: target };
}
