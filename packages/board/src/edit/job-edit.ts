import type { Limits } from '../schema/limits-schema.ts';
import type { Written } from './written.ts';

/** Keys below a position, joined by dots; a number counts the parts of a list from 0, as in `fit.0.value`. */
export type PositionPath = PositionKey | `${'fit' | 'pulled'}.${string}`;
type PositionKey = 'fit' | 'pulled' | 'why' | 'inserted' | 'reversed' | 'mended';

/** What stands beside the tables of a job. */
export type JobField =
  | 'title'
  | 'board'
  | 'unit'
  | 'unit.model'
  | 'unit.serial'
  | 'date'
  | 'technician'
  | 'complaint'
  | 'ambient'
  | 'reminders'
  | 'photos';

/**
 * One change of a job, values as a technician writes them (`33 µF`). `position` is a pair key or a single designator,
 * whichever of the two the file has: a change of a pair reaches what is written for its members alone, a change of one
 * member leaves the other as it was.
 */
export type JobEdit =
  | { readonly kind: 'set'; readonly position: string; readonly path: PositionPath; readonly value: Written }
  | { readonly kind: 'clear'; readonly position: string; readonly path: PositionPath }
  | { readonly kind: 'add'; readonly position: string; readonly entry: NewPosition }
  | { readonly kind: 'remove'; readonly position: string }
  /** `key` is `good`, `look`, `from` and so on; null takes it back to the board's own. */
  | { readonly kind: 'limit'; readonly limit: keyof Limits; readonly key: string; readonly value: string | null }
  /** Null removes it. */
  | { readonly kind: 'field'; readonly field: JobField; readonly value: Written };

/** What a new position says from the beginning. */
export type NewPosition = Readonly<Partial<Record<PositionKey, Written>>>;
