import { dirname, join } from 'node:path';
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
import { readText } from './files.ts';

/** What a verb is asked about: a board alone, or a job with its board. */
export type Subject = { readonly kind: 'board'; readonly board: Board } | { readonly kind: 'job'; readonly job: Job };

/** Reads a board or job file, and the board a job names relative to itself. `ambient` (K) replaces the file's. */
export function readSubject(file: string, ambient: number | undefined): Outcome<Subject> {
  const text = readText(file);
  if (!text.ok) return text;
  return fileKind(text.value) === 'job'
    ? readJobSubject(text.value, file, ambient)
    : readBoardSubject(text.value, file, ambient);
}

function readBoardSubject(text: string, file: string, ambient: number | undefined): Outcome<Subject> {
  const outcome = readBoard(text, file);
  if (!outcome.ok) return outcome;
  const board = outcome.value;
  const circuit = { ...board.circuit, ambient: ambient ?? board.circuit.ambient };
  return { ok: true, value: { kind: 'board', board: { ...board, circuit } } };
}

function readJobSubject(text: string, file: string, ambient: number | undefined): Outcome<Subject> {
  const jobFile = readJob(text, file);
  if (!jobFile.ok) return jobFile;
  const boardPath = join(dirname(file), jobFile.value.value.board);
  const boardText = readText(boardPath);
  if (!boardText.ok) {
    const place = jobFile.value.placeOf(['board'], 'value');
    return { ok: false, diagnostics: boardText.diagnostics.map((trouble) => atNaming(trouble, boardPath, place)) };
  }
  const board = readBoard(boardText.value, boardPath);
  if (!board.ok) return board;
  const job = joinJob(jobFile.value, board.value);
  if (!job.ok) return job;
  return { ok: true, value: { kind: 'job', job: { ...job.value, ambient: ambient ?? job.value.ambient } } };
}

/** The trouble with a board's file stands where the job names it. */
function atNaming(trouble: Diagnostic, boardPath: string, place: Diagnostic['place']): Diagnostic {
  return { ...trouble, place, message: `${boardPath}: ${trouble.message}` };
}
