import type { Diagnostic, JobEdit } from '@curvewright/board';
import type { Level } from '@curvewright/verify';
import type { SheetView, SubjectText, TextOf } from './sheet.ts';
import type { SlowKind, SlowOutcome, SlowRequest } from './slow.ts';

export type * from './sheet.ts';
export type * from './slow.ts';

/**
 * What the worker answers, by comlink. The page starts the worker file twice, which is fetched once: one for what must be
 * quick (`open`, `drag`, `edit`), the other for what takes seconds (`slow`), so that neither waits for the other.
 */
export interface Compute {
  /** Reads, joins, solves; what is the same as at the last call is taken from there. */
  open(subject: SubjectText): Promise<Opened>;
  /** A move on the job that was opened last. */
  drag(request: DragRequest): Promise<Dragged>;
  /** The job's text with one edit made, comments and formatting kept. */
  edit(request: EditRequest): Promise<Edited>;
  /** The board that a job's text names, as a path in the bench's folder; null where the text names none inside it. */
  boardOf(job: TextOf): Promise<string | null>;
  /** The text of a new job at `path` for a board, both in the bench's folder; `date` as it shall stand there. */
  jobFor(request: { path: string; board: string; title: string; date: string }): Promise<string>;
  /** A job or a board in one line, for the list; what is open stays open, and slow answers go first. Takes about a second. */
  glance(subject: SubjectText): Promise<Glance>;
  /**
   * Answers come one after the other, in the order in which they are asked for. One of a higher revision makes what is in hand or waits
   * of a lower one come back as overtaken; a subject is solved once for all that is asked of it.
   */
  slow<K extends SlowKind>(
    request: SlowRequest<K>,
    progress: (revision: number, share: number) => void,
  ): Promise<SlowOutcome<K>>;
  /** Nothing slow that was asked for at this revision or before is wanted any longer: the hand has moved on. */
  overtake(revision: number): Promise<void>;
}

export type Glance =
  | { readonly revision: number; readonly ok: true; readonly title: string; readonly verdict: Level }
  | { readonly revision: number; readonly ok: false; readonly diagnostics: readonly Diagnostic[] };

/** Every answer says which revision it is of; what is older than the page's is out of date. */
export type Opened =
  | { readonly revision: number; readonly ok: true; readonly view: SheetView }
  | { readonly revision: number; readonly ok: false; readonly diagnostics: readonly Diagnostic[] };

/** A value under the hand: SI, of the part in these positions. */
export interface DragRequest {
  readonly revision: number;
  readonly refs: readonly string[];
  readonly value: number;
}

export interface Dragged {
  readonly revision: number;
  /** Null where no bias is found, and where a position has no value to move. */
  readonly live: LiveCurves | null;
}

export interface LiveCurves {
  readonly deviationDb: readonly Float64Array[];
  readonly gainDb: readonly number[];
  readonly at20HzDb: readonly number[];
  readonly worstDb: readonly number[];
  readonly balanceDb: number | null;
}

export interface EditRequest {
  readonly revision: number;
  readonly job: TextOf;
  readonly edit: JobEdit;
}

export type Edited =
  | { readonly revision: number; readonly ok: true; readonly text: string }
  | { readonly revision: number; readonly ok: false; readonly diagnostics: readonly Diagnostic[] };
