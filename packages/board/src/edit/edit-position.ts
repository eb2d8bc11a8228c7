import { designatorsOf } from '../expand-part.ts';
import {
  apart,
  pairFor,
  says,
  without,
  withoutTop,
  withTop,
  type EditedPositions,
  type Positions,
} from './positions.ts';
import { withoutValue, withValue, type WrittenPath } from './written-path.ts';
import type { Written, WrittenMap } from './written.ts';

/**
 * With `value` at `path` below a position. A member of a pair that is changed alone gets its own copy of the key that
 * `path` begins with; a pair that is changed changes what its members say alone too. Null where `path` leads nowhere.
 */
export function withPosition(positions: Positions, key: string, path: WrittenPath, value: Written): Positions | null {
  const top = String(path[0]);
  let result = positions;
  for (const holder of holdersOf(positions, key, top)) {
    const said = sayingFor(positions, holder, top);
    const entry = withValue(said === undefined ? {} : { [top]: said }, path, value) as WrittenMap | undefined;
    const changed = entry?.[top];
    if (changed === undefined) return null;
    result = withTop(result, holder, top, changed);
  }
  return result;
}

/** Without what stands at `path` below a position; a position that says nothing more stays, empty. */
export function withoutPosition(positions: Positions, key: string, path: WrittenPath): EditedPositions {
  const top = String(path[0]);
  let result = positions;
  for (const holder of holdersOf(positions, key, top)) {
    const said = sayingFor(positions, holder, top);
    const left = said === undefined ? undefined : (withoutValue({ [top]: said }, path) as WrittenMap | undefined);
    if (left?.[top] !== undefined) result = withTop(result, holder, top, left[top]);
  }
  const leftNothing = (ref: string): boolean => {
    const said = sayingFor(positions, ref, top);
    return said !== undefined && withoutValue({ [top]: said }, path) === undefined;
  };
  const gone = designatorsOf(key).filter(leftNothing);
  return gone.length === 0 ? { positions: result } : silenced(result, gone, top);
}

/** Without a position: the designators of its key are not spoken of any more, by any key. */
export function withoutPositions(positions: Positions, key: string): EditedPositions {
  const refs = designatorsOf(key);
  const pair = pairFor(positions, refs);
  if (pair === null || refs.length === designatorsOf(pair).length) {
    return { positions: without(positions, [key, ...refs, ...(pair === null ? [] : [pair])]) };
  }
  const { positions: single, ...renamed } = apart(positions, pair, refs);
  return { positions: without(single, refs), ...renamed };
}

/** The keys that have to say what is changed for the designators of `key`, and for no other. */
function holdersOf(positions: Positions, key: string, top: string): readonly string[] {
  const refs = designatorsOf(key);
  const pair = pairFor(positions, refs);
  const own = refs.filter((ref) => says(positions, ref, top));
  if (pair === null) {
    const isNew = refs.every((ref) => !Object.hasOwn(positions, ref));
    return isNew ? [key] : refs;
  }
  const leaning = designatorsOf(pair).filter((ref) => !says(positions, ref, top));
  const isPairs = own.length < refs.length && leaning.every((ref) => refs.includes(ref));
  return isPairs && (key === pair || says(positions, pair, top)) ? [...own, pair] : refs;
}

/** What a key says under `top`: its own, else what its pair says. */
function sayingFor(positions: Positions, key: string, top: string): Written | undefined {
  const pair = pairFor(positions, designatorsOf(key));
  return says(positions, key, top) || pair === null ? positions[key]?.[top] : positions[pair]?.[top];
}

/** Nothing is said under `top` of these designators; the others of their pair keep what it said. */
function silenced(positions: Positions, refs: readonly string[], top: string): EditedPositions {
  const pair = pairFor(positions, refs);
  const drop = (from: Positions, keys: readonly string[]): Positions =>
    keys.reduce((result, each) => withoutTop(result, each, top), from);
  if (pair === null || !says(positions, pair, top)) return { positions: drop(positions, refs) };
  const leaning = designatorsOf(pair).filter((ref) => !refs.includes(ref) && !says(positions, ref, top));
  if (leaning.length === 0) return { positions: drop(positions, [pair, ...refs]) };
  const { positions: single, ...renamed } = apart(positions, pair, refs);
  return { positions: drop(single, refs), ...renamed };
}
