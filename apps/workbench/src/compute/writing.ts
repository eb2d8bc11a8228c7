import { editJob, jobForBoard } from '@curvewright/board';
import type { Edited, EditRequest } from '../contract/compute.ts';
import { foldersOf } from './job-paths.ts';

export function edited({ revision, job, edit }: EditRequest): Edited {
  const text = editJob(job.text, job.path, edit);
  return text.ok ? { revision, ok: true, text: text.value } : { revision, ok: false, diagnostics: text.diagnostics };
}

/** The text of a new job at `path` for a board, both paths in the bench's folder. */
export function newJob(path: string, board: string, title: string, date: string): string {
  const [from, to] = [foldersOf(path), board.split('/')];
  const parting = from.findIndex((folder, n) => folder !== to[n]);
  const shared = parting < 0 ? from.length : parting;
  const named = [...from.slice(shared).map(() => '..'), ...to.slice(shared)];
  return jobForBoard(named.join('/'), title, date);
}
