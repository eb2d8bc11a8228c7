import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { joinJob, readBoard, readJob, type Job, type Outcome } from '@curvewright/board';
import type { Opened, SheetRow, SheetView, SubjectText } from '../../src/contract/compute.ts';

const seed = (path: string): string => readFileSync(join(import.meta.dirname, '../../../../seeds', path), 'utf8');

const board = { path: 'boards/lk417.board.yaml', text: seed('boards/lk417.board.yaml') };

/** The demo job's text. */
export const jobText: string = seed('jobs/lk417.job.yaml');

/** The demo job on its board, with another text of the job where one is given. */
export function demo(revision: number, text: string = jobText): SubjectText {
  return { revision, job: { path: 'jobs/lk417.job.yaml', text }, board };
}

export function boardAlone(revision: number): SubjectText {
  return { revision, job: null, board };
}

/** The job's text with this much fitted for the 22 µF of C103 and C104, the feedback legs of left and right. */
export function legsOf(value: string): string {
  return jobText.replaceAll('value: 22 µF', `value: ${value}`);
}

export function demoJob(text: string = jobText): Job {
  return valueOf(joinJob(valueOf(readJob(text, 'job')), valueOf(readBoard(board.text, 'board'))));
}

export function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.diagnostics.map(({ message }) => message).join('\n'));
  return outcome.value;
}

export function viewOf(opened: Opened): SheetView {
  if (!opened.ok) throw new Error(opened.diagnostics.map(({ message }) => message).join('\n'));
  return opened.view;
}

export function rowOf({ rows }: SheetView, key: string): SheetRow {
  const row = rows.find((each) => each.key === key);
  if (row === undefined) throw new Error(`no row ${key}`);
  return row;
}
