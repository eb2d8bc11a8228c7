import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { joinJob, readBoard, readJob, type Board, type Job, type Outcome } from '@curvewright/board';

const root = resolve(import.meta.dirname, '../..');

/** The demo boards, by file name. */
export const seedNames: readonly string[] = ['lk205', 'lk310', 'lk417', 'lk520', 'lk630'];

/** Throws what is wrong, which fails the test that asked. */
export function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.diagnostics.map(({ message }) => message).join('\n'));
  return outcome.value;
}

export function readFixture(path: string): string {
  return readFileSync(resolve(root, path), 'utf8');
}

export function boardText(name: string): string {
  return readFixture(`seeds/boards/${name}.board.yaml`);
}

export function seedBoard(name: string): Board {
  return valueOf(readBoard(boardText(name), `${name}.board.yaml`));
}

/** The demo job on its board. */
export function seedJob(): Job {
  return jobFrom(readFixture('seeds/jobs/lk417.job.yaml'));
}

/** A job's text on the demo job's board, or on another. */
export function jobFrom(text: string, board: Board = seedBoard('lk417')): Job {
  return valueOf(joinJob(valueOf(readJob(text, 'lk417.job.yaml')), board));
}
