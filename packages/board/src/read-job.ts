import type { Outcome } from './diagnostics.ts';
import { readAs, type FileContent } from './read-as.ts';
import { jobSchema, type JobEntry } from './schema/job-schema.ts';

/** A job file by itself, before its board is known. */
export interface JobFile extends FileContent<JobEntry> {
  readonly file: string;
}

/** Reads the text of a job file; `file` is the name that diagnostics carry. */
export function readJob(text: string, file: string): Outcome<JobFile> {
  const outcome = readAs(jobSchema, text, file);
  return outcome.ok ? { ok: true, value: { ...outcome.value, file } } : outcome;
}
