import { pastAnswer } from '@curvewright/verify';
import { diagnosticLines, historyPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { jobsIn } from '../job-folder.ts';

export interface HistoryOptions {
  readonly json?: boolean;
}

/** What pulled parts of a position, type, build or kind read in all jobs of a folder. Jobs that cannot be used are named and left out. */
export function history(asked: string, folder: string, { json = false }: HistoryOptions, desk: Desk): Status {
  const found = jobsIn(folder);
  if (!found.ok) return refuse(desk, found.diagnostics, json);
  const jobs = found.value.flatMap(({ job }) => (job.ok ? [job.value] : []));
  const troubles = found.value.flatMap(({ job }) => (job.ok ? [] : job.diagnostics.slice(0, 1)));
  if (troubles.length > 0) desk.complain(`${diagnosticLines(troubles)}\n`);
  const answer = pastAnswer(jobs, asked);
  if (json) printJson(desk, { folder, jobs: jobs.length, leftOut: troubles.length, ...answer });
  else desk.out(historyPage(answer, jobs.length, desk));
  return 0;
}
