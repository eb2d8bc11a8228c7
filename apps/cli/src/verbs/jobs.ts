import type { Job } from '@curvewright/board';
import { checkJob } from '@curvewright/verify';
import { diagnosticLines, jobsPage, type JobLine } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { jobsIn, type JobFile } from '../job-folder.ts';

export interface JobsOptions {
  readonly json?: boolean;
}

/** The jobs of a folder with state and verdict; a job that cannot be used is listed with its first fault. */
export function jobs(folder: string, { json = false }: JobsOptions, desk: Desk): Status {
  const found = jobsIn(folder);
  if (!found.ok) return refuse(desk, found.diagnostics, json);
  const lines = found.value.map((file, n) => {
    desk.progress(`${n} of ${found.value.length} jobs`);
    return lineOf(file);
  });
  desk.progress('');
  if (json) printJson(desk, { folder, jobs: lines });
  else desk.out(jobsPage(lines, folder, desk));
  return 0;
}

function lineOf({ file, job }: JobFile): JobLine {
  if (!job.ok) return unusable(file, file, diagnosticLines(job.diagnostics.slice(0, 1)));
  const { entry } = job.value;
  const known = { file, title: entry.title, serial: entry.unit?.serial ?? null, date: entry.date ?? null };
  const answer = checkJob(job.value);
  if (!answer.ok) return { ...unusable(file, entry.title, diagnosticLines(answer.diagnostics.slice(0, 1))), ...known };
  return { ...known, states: statesOf(job.value), verdict: answer.value.verdict, trouble: null };
}

function unusable(file: string, title: string, trouble: string): JobLine {
  return { file, title, serial: null, date: null, states: [], verdict: null, trouble };
}

function statesOf({ positions, entry, added }: Job): readonly string[] {
  return [
    ...(positions.some(({ pulled }) => pulled !== undefined) ? ['found'] : []),
    ...(positions.some(({ fitted }) => fitted !== undefined) || added.length > 0 ? ['rebuilt'] : []),
    ...(entry.readings !== undefined || entry.measured !== undefined ? ['measured'] : []),
  ];
}
