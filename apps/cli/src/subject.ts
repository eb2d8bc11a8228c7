import { dirname, join } from 'node:path';
import {
  circuitOf,
  joinJob,
  readBoard,
  readJob,
  writtenAs,
  type Board,
  type Circuit,
  type Job,
  type Outcome,
  type State,
} from '@curvewright/board';
import { readText } from './files.ts';

/** What a verb is asked about: a board alone, or a job with its board. */
export type Subject = { readonly kind: 'board'; readonly board: Board } | { readonly kind: 'job'; readonly job: Job };

/** Reads a board or job file, and the board a job names relative to itself. `ambient` (K) replaces the file's. */
export function readSubject(file: string, ambient: number | undefined): Outcome<Subject> {
  const text = readText(file);
  if (!text.ok) return text;
  if (writtenAs(text.value) !== 'job') {
    const board = readBoard(text.value, file);
    return board.ok ? { ok: true, value: { kind: 'board', board: atAmbient(board.value, ambient) } } : board;
  }
  const jobFile = readJob(text.value, file);
  if (!jobFile.ok) return jobFile;
  const boardPath = join(dirname(file), jobFile.value.board);
  const boardText = readText(boardPath);
  if (!boardText.ok) return namedBoard(boardPath, jobFile.value.boardPlace, boardText);
  const board = readBoard(boardText.value, boardPath);
  if (!board.ok) return board;
  const job = joinJob(jobFile.value, board.value);
  if (!job.ok) return job;
  return { ok: true, value: { kind: 'job', job: ambient === undefined ? job.value : { ...job.value, ambient } } };
}
