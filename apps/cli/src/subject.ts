import { dirname, isAbsolute, join } from 'node:path';
import {
  fileKind,
  joinJob,
  readBoard,
  readJob,
  type Board,
  type Diagnostic,
  type Job,
  type Outcome,
} from '@curvewright/board';
import { boardUnder, jobUnder, unknownRails, type Conditions } from './conditions.ts';
import { readText } from './files.ts';

/** What a verb is asked about: a board alone, or a job with its board. */
export type Subject = { readonly kind: 'board'; readonly board: Board } | { readonly kind: 'job'; readonly job: Job };

/** Reads a board or job file, and the board a job names relative to itself, under the conditions that are asked for. */
export function readSubject(file: string, conditions: Conditions): Outcome<Subject> {
  const text = readText(file);
  if (!text.ok) return text;
  return fileKind(text.value) === 'job'
    ? readJobSubject(text.value, file, conditions)
    : readBoardSubject(text.value, file, conditions);
}

function readBoardSubject(text: string, file: string, conditions: Conditions): Outcome<Subject> {
  const board = boardOf(text, file, conditions);
  return board.ok ? { ok: true, value: { kind: 'board', board: board.value } } : board;
}

function boardOf(text: string, file: string, conditions: Conditions): Outcome<Board> {
  const board = readBoard(text, file);
  if (!board.ok) return board;
  const diagnostics = unknownRails(board.value, conditions);
  return diagnostics.length > 0 ? { ok: false, diagnostics } : { ok: true, value: boardUnder(board.value, conditions) };
}

function readJobSubject(text: string, file: string, conditions: Conditions): Outcome<Subject> {
  const jobFile = readJob(text, file);
  if (!jobFile.ok) return jobFile;
  const { board: written } = jobFile.value.value;
  const boardPath = isAbsolute(written) ? written : join(dirname(file), written);
  const boardText = readText(boardPath);
  if (!boardText.ok) {
    const place = jobFile.value.placeOf(['board'], 'value');
    return { ok: false, diagnostics: boardText.diagnostics.map((trouble) => atNaming(trouble, boardPath, place)) };
  }
  const board = boardOf(boardText.value, boardPath, conditions);
  if (!board.ok) return board;
  const job = joinJob(jobFile.value, board.value);
  if (!job.ok) return job;
  return { ok: true, value: { kind: 'job', job: jobUnder(job.value, conditions) } };
}

/** The trouble with a board's file stands where the job names it. */
function atNaming(trouble: Diagnostic, boardPath: string, place: Diagnostic['place']): Diagnostic {
  return { ...trouble, place, message: `${boardPath}: ${trouble.message}` };
}
