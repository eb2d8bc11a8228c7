import { joinJob, readBoard, readJob, type Board, type Job, type Outcome } from '@curvewright/board';
import type { SubjectText, TextOf } from '../contract/sheet.ts';

/** What the texts say: a job on its board, or a board alone. */
export interface Subject {
  readonly text: SubjectText;
  readonly board: Board;
  /** Null for a board alone. */
  readonly job: Job | null;
}

/** Reads and joins; a board whose text is that of `before` is not read again. */
export function readSubject(text: SubjectText, before: Subject | null): Outcome<Subject> {
  const board = before && isSame(before.text.board, text.board) ? before.board : boardOf(text.board);
  if ('ok' in board) return board;
  if (text.job === null) return { ok: true, value: { text, board, job: null } };
  const file = readJob(text.job.text, text.job.path);
  if (!file.ok) return file;
  const job = joinJob(file.value, board);
  return job.ok ? { ok: true, value: { text, board, job: job.value } } : job;
}

function boardOf({ text, path }: TextOf): Board | Extract<Outcome<Board>, { ok: false }> {
  const read = readBoard(text, path);
  return read.ok ? read.value : read;
}

export function isSame(a: TextOf | null, b: TextOf | null): boolean {
  return a?.text === b?.text && a?.path === b?.path;
}
