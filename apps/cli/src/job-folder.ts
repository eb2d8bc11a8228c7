import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileKind, type Job, type Outcome } from '@curvewright/board';
import { readText, reasonOf } from './files.ts';
import { readSubject } from './subject.ts';

/** Files looked at in one folder. */
const mostFiles = 20_000;

export interface JobFile {
  /** From the folder, `/` between. */
  readonly file: string;
  readonly job: Outcome<Job>;
}

/** Every job of a folder and the folders in it, by path; hidden folders and installed packages are left out. */
export function jobsIn(folder: string): Outcome<readonly JobFile[]> {
  try {
    const jobs: JobFile[] = [];
    for (const file of yamlFiles(folder)) {
      const path = join(folder, file);
      const text = readText(path);
      // What cannot be read is told where its name says that it is a job.
      if (text.ok ? fileKind(text.value) !== 'job' : !/\.job\.ya?ml$/i.test(file)) continue;
      const subject = readSubject(path, {});
      if (!subject.ok) jobs.push({ file, job: subject });
      else if (subject.value.kind === 'job') jobs.push({ file, job: { ok: true, value: subject.value.job } });
    }
    return { ok: true, value: jobs };
  } catch (trouble) {
    const place = { file: folder, line: 1, column: 1 };
    return { ok: false, diagnostics: [{ code: 'unreadable-file', place, message: `the folder ${reasonOf(trouble)}` }] };
  }
}

function yamlFiles(folder: string): readonly string[] {
  const found: string[] = [];
  const waiting = [''];
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    for (const entry of readdirSync(join(folder, at), { withFileTypes: true })) {
      if (entry.name.startsWith('.') || entry.name === 'node_modules') continue;
      const path = at === '' ? entry.name : `${at}/${entry.name}`;
      if (entry.isDirectory()) waiting.push(path);
      else if (entry.isFile() && /\.ya?ml$/i.test(entry.name)) found.push(path);
      if (found.length >= mostFiles) return found.toSorted();
    }
  }
  return found.toSorted();
}
