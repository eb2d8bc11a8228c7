import { isJointFault } from './fault.ts';
import type { WrittenPosition } from './position-keys.ts';
import type { PlaceOf } from './read-yaml.ts';
import type { Swapped } from './swap.ts';

/** The pulled part back in its place with every joint, contact and track of it whole; undefined where the job does not write `mended`. */
export function mended(
  ref: string,
  pulled: Swapped | undefined,
  written: WrittenPosition,
  placeOf: PlaceOf,
): Swapped | undefined {
  const { mended: said, fit } = written;
  if (said?.value !== true || (pulled?.diagnostics.length ?? 0) > 0) return undefined;
  const { parts = [], faults = [], notes = [] } = pulled ?? {};
  const left = faults.filter((fault) => !isJointFault(fault));
  const message =
    fit !== undefined
      ? `${ref}: what is fitted has joints of its own; leave mended out`
      : left.length === faults.length
        ? `${ref}: nothing is said that mending puts right; write pulled: { faults: [open_joint], lead: … }, or leave mended out`
        : null;
  return {
    parts,
    faults: left,
    notes,
    diagnostics: message === null ? [] : [{ code: 'fit-mismatch', place: placeOf(said.path, 'value'), message }],
  };
}
