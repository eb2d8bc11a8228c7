import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { circuitOf, mergeLimits, type Diagnostic } from '@curvewright/board';
import { atOnce, fitSteps, solveStage, type FitAnswer, type Stage } from '@curvewright/verify';
import { fitPage, leadDrawing, stringDrawing } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { reasonOf, writeWhole } from '../files.ts';
import { stageOf, type StageRequest, type SubjectStage } from '../stage-of.ts';

export interface FitOptions extends StageRequest {
  readonly json?: boolean;
  /** A folder that takes the drawings as SVG. */
  readonly drawings?: string;
}

/** Whether every part survives, stands the right way round and goes in, with every margin. */
export function fit(file: string, options: FitOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const { title, state, stage, subject } = solved.value;
  const job = subject.kind === 'job' ? subject.job : null;
  const limits = subject.kind === 'job' ? subject.job.limits : mergeLimits(subject.board.limits);
  const answer = atOnce(fitSteps(stage, drawnStage(solved.value), limits, job));
  const trouble = options.drawings === undefined ? null : writeDrawings(options.drawings, answer);
  if (trouble !== null) return refuse(desk, [trouble], json);
  if (json) printJson(desk, { title, state, ...answer });
  else desk.out(fitPage(answer, { title, state, ...desk }));
  return 0;
}

/** Null for the drawn state itself, and for a drawn board without a bias, against which nothing can be held. */
function drawnStage({ subject, state, stage }: SubjectStage): Stage | null {
  if (subject.kind !== 'job' || state === 'drawn') return null;
  const view = circuitOf(subject.job, 'drawn');
  const solved = view === null ? null : solveStage(view.circuit, stage.source);
  return solved?.ok === true ? solved.value : null;
}

/** One file for each transistor and string, on light paper; what went wrong, or null. */
function writeDrawings(folder: string, { leads, fitted }: FitAnswer): Diagnostic | null {
  const drawings = [
    ...leads.map((each) => [`leads-${each.ref}.svg`, leadDrawing(each, { ink: 'print' })] as const),
    ...fitted.map((each) => [`string-${each.ref}.svg`, stringDrawing(each, { ink: 'print' })] as const),
  ];
  let at = folder;
  try {
    mkdirSync(folder, { recursive: true });
    for (const [name, svg] of drawings) {
      at = join(folder, name);
      writeWhole(at, `${svg}\n`);
    }
    return null;
  } catch (trouble) {
    const place = { file: at, line: 1, column: 1 };
    return { code: 'unreadable-file', place, message: `the file ${reasonOf(trouble)}` };
  }
}
