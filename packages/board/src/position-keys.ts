import type { Board } from './board.ts';
import type { Diagnostic } from './diagnostics.ts';
import { designatorsOf } from './expand-part.ts';
import { suggestion } from './nearest.ts';
import type { Path, PlaceOf } from './read-yaml.ts';
import type { PositionEntry } from './schema/job-schema.ts';

/** What a job writes for one designator, each part of it with the path in the file where it stands. */
export type WrittenPosition = {
  readonly [K in keyof PositionEntry]: { readonly value: NonNullable<PositionEntry[K]>; readonly path: Path };
};

/**
 * What a job's `positions:` say of each designator. A key of twins speaks for all of them; a key of a single one goes
 * over it, for each of pulled, fit, why and so on by itself, wherever in the file it stands.
 */
export function writtenPositions(
  positions: Readonly<Record<string, PositionEntry>>,
  board: Board,
  placeOf: PlaceOf,
): { readonly byRef: ReadonlyMap<string, WrittenPosition>; readonly diagnostics: readonly Diagnostic[] } {
  const byRef = new Map<string, WrittenPosition>();
  const diagnostics: Diagnostic[] = [];
  const keys = Object.entries(positions).map(([key, entry]) => ({ key, entry, refs: designatorsOf(key) }));
  keys.sort((a, b) => b.refs.length - a.refs.length);
  for (const { key, entry, refs } of keys) {
    const fault = keyFault(key, refs, board);
    if (fault !== null) {
      diagnostics.push({ code: 'unknown-position', place: placeOf(['positions', key], 'key'), message: fault });
      continue;
    }
    const written = Object.fromEntries(
      Object.entries(entry).map(([name, value]: [string, unknown]) => [
        name,
        { value, path: ['positions', key, name] },
      ]),
    ) as WrittenPosition;
    for (const ref of refs) byRef.set(ref, { ...byRef.get(ref), ...written });
  }
  return { byRef, diagnostics };
}

/** Why a key names no position of the board; null where it does. */
function keyFault(key: string, refs: readonly string[], board: Board): string | null {
  const twins = board.positions.map((group) => group.join('/'));
  const designators = board.positions.flat();
  if (twins.includes(key) || (refs.length === 1 && designators.includes(key))) return null;
  const strange = refs.find((ref) => !designators.includes(ref));
  if (strange !== undefined && refs.length === 1) {
    return `the board has no ${strange}; ${suggestion(strange, designators)}`;
  }
  const own = strange === undefined ? board.positions.find((group) => group.includes(refs[0] ?? '')) : undefined;
  return own === undefined
    ? `the board has no ${key}; ${suggestion(key, twins)}`
    : `${key} is no position of the board; write ${own.join('/')}, or one designator at a time`;
}
