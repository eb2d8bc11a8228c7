import { isList, isWrittenMap, type Written, type WrittenMap } from './written.ts';

/** Keys and list indices down to a value. */
export type WrittenPath = readonly (string | number)[];

/** `fit.0.value` as a path; digits alone are an index. */
export function pathOf(dotted: string): WrittenPath {
  return dotted.split('.').map((step) => (/^\d+$/.test(step) ? Number(step) : step));
}

export function valueAt(root: Written | undefined, path: WrittenPath): Written | undefined {
  let value = root;
  for (const step of path) {
    if (typeof step === 'number') value = isList(value) ? value[step] : undefined;
    else value = isWrittenMap(value) && Object.hasOwn(value, step) ? value[step] : undefined;
  }
  return value;
}

/**
 * The value with `inner` at `path`; mappings on the way that are not there, or stand as an empty value or as `none`,
 * are made. Undefined where a list or another text is in the way.
 */
export function withValue(root: Written | undefined, path: WrittenPath, inner: Written): Written | undefined {
  const [step, ...rest] = path;
  if (step === undefined) return inner;
  if (typeof step === 'number') {
    if (!isList(root) || step >= root.length) return undefined;
    const item = withValue(root[step], rest, inner);
    return item === undefined ? undefined : root.with(step, item);
  }
  const map = root === undefined || root === null || root === 'none' ? {} : root;
  if (!isWrittenMap(map)) return undefined;
  const value = withValue(Object.hasOwn(map, step) ? map[step] : undefined, rest, inner);
  return value === undefined ? undefined : { ...map, [step]: value };
}

/**
 * The value without what stands at `path`, and without the mappings that this leaves empty: an empty `fit` would say
 * that a new part of the drawn value goes in, which nobody wrote. Undefined where nothing is left; an item of a list
 * stays, empty, because the others are counted from the first.
 */
export function withoutValue(root: Written | undefined, path: WrittenPath): Written | undefined {
  const [step, ...rest] = path;
  if (root === undefined || step === undefined) return undefined;
  if (typeof step === 'number') {
    if (!isList(root) || step >= root.length) return root;
    return root.with(step, withoutValue(root[step], rest) ?? {});
  }
  if (!isWrittenMap(root) || !Object.hasOwn(root, step)) return root;
  const value = withoutValue(root[step], rest);
  const map = value === undefined ? withoutKey(root, step) : { ...root, [step]: value };
  return Object.keys(map).length === 0 ? undefined : map;
}

export function withoutKey(map: WrittenMap, key: string): WrittenMap {
  return Object.fromEntries(Object.entries(map).filter(([name]) => name !== key));
}
