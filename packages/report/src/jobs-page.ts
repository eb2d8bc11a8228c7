import type { Level } from '@curvewright/verify';
import { oneLine, wrap } from './cells.ts';
import { markOf } from './ink.ts';
import { none } from './numbers.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { tableLines, type Column } from './table.ts';

/** One job of a folder. */
export interface JobLine {
  readonly file: string;
  readonly title: string;
  readonly serial: string | null;
  readonly date: string | null;
  /** What is known beside the drawing: found, rebuilt, measured. */
  readonly states: readonly string[];
  /** Null where the file cannot be used; `trouble` says why. */
  readonly verdict: Level | null;
  readonly trouble: string | null;
}

/** The jobs of a folder with state and verdict; what cannot be used says so in its place. */
export function jobsPage(jobs: readonly JobLine[], folder: string, options: PageOptions): string {
  const page = { ...options, width: pageWidth(options) };
  const heading = wrap(`${oneLine(folder)}: ${jobs.length} ${jobs.length === 1 ? 'job' : 'jobs'}`, page.width);
  if (jobs.length === 0) return [...heading, 'Start one: curvewright new FOLDER'].join('\n');
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left', wraps: true },
    { align: 'left' },
    { align: 'left' },
    { align: 'left' },
    { align: 'left' },
  ];
  const rows = jobs.map(({ verdict, trouble, states, ...job }) => [
    verdict === null ? '– unusable' : `${markOf[verdict]} ${verdict}`,
    trouble ?? job.title,
    job.serial ?? none,
    job.date ?? none,
    states.join(', '),
    job.file,
  ]);
  const lines = tableLines(columns, [['verdict', 'job', 'serial', 'date', 'known', 'file'], ...rows], page);
  return [...heading, '─'.repeat(page.width), ...lines].join('\n');
}
