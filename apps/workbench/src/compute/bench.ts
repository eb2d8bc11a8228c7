import type { Outcome } from '@curvewright/board';
import { stageBoard, stageJob, type StagedJob, type StagedState } from '@curvewright/verify';
import type { RowEffect, SubjectText } from '../contract/sheet.ts';
import type { StagedView } from './staged-view.ts';
import { isSame, readSubject, type Subject } from './subject.ts';

/** A subject on the bench: its states solved, and what was found out about them. */
export interface Bench {
  readonly subject: Subject;
  readonly staged: StagedJob;
  /** A state that comes again unchanged has its view already. */
  readonly views: WeakMap<StagedState, StagedView>;
  /** By what is fitted, on this drawn board. */
  readonly effects: Map<string, RowEffect | null>;
}

/** Reads and solves a subject; what has not changed since `before` is taken from there. */
export function layOut(text: SubjectText, before: Bench | null): Outcome<Bench> {
  const was = before?.subject.text;
  if (before && was && isSame(was.job, text.job) && isSame(was.board, text.board)) return { ok: true, value: before };
  const read = readSubject(text, before?.subject ?? null);
  if (!read.ok) return read;
  const { job, board } = read.value;
  const staged = job === null ? stageBoard(board, before?.staged) : stageJob(job, before?.staged);
  if (!staged.ok) return staged;
  const isDrawnAlike = before !== null && before.staged.states[0] === staged.value.states[0];
  return {
    ok: true,
    value: {
      subject: read.value,
      staged: staged.value,
      views: before?.views ?? new WeakMap(),
      effects: isDrawnAlike ? before.effects : new Map<string, RowEffect | null>(),
    },
  };
}
