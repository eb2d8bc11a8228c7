import type { Diagnostic, Outcome } from '../diagnostics.ts';
import { readJob } from '../read-job.ts';
import { readYaml, type YamlFile } from '../read-yaml.ts';
import { editedJob, type EditedJob } from './edited-job.ts';
import type { JobEdit } from './job-edit.ts';
import { renamedKey, rewritten } from './rewritten.ts';
import { pathOf, type WrittenPath } from './written-path.ts';
import { isWrittenMap, type Written } from './written.ts';

/**
 * The text of a job with one edit made. Comments, blank lines, quotes, brackets, the order of keys, indentation and
 * line ends stay as they are wherever the edit does not reach; an edit that changes nothing gives back the same text.
 *
 * Refused where the text cannot be read as YAML without a fault, where the edit would put a fault into the job that it
 * did not have (`file` is the name the diagnostic carries, its place the one in `text`), and where the value is written
 * in a form that cannot be changed without changing others.
 */
export function editJob(text: string, file: string, edit: JobEdit): Outcome<string> {
  const before = readYaml(text, file);
  const { diagnostics } = before;
  if (before.value === undefined || diagnostics.length > 0) return { ok: false, diagnostics };
  const job = before.value as Written;
  if (!isWrittenMap(job)) return refused(before, [], 'the file has no keys; write job: 1, title: … and board: … first');

  const edited = editedJob(job, edit);
  if (!edited.ok) return refused(before, edited.path, edited.message);
  const after = textSaying(text, edited);
  const path = pathOfEdit(edit);
  if (after === null) {
    return refused(
      before,
      path,
      'this is written in a form that takes no change (with & and *, or with ?); write it out in the text, as KEY: VALUE',
    );
  }
  const known = new Set(faultsIn(text, file).map(faultKey));
  const fresh = faultsIn(after, file).filter((fault) => !known.has(faultKey(fault)));
  if (fresh.length === 0) return { ok: true, value: after };
  return { ok: false, diagnostics: fresh.map((fault) => ({ ...fault, place: before.placeOf(path, 'value') })) };
}

function textSaying(text: string, { job, renamed }: Extract<EditedJob, { ok: true }>): string | null {
  const start = renamed === undefined ? text : renamedKey(text, ['positions', renamed.from], renamed.to);
  return start === null ? null : rewritten(start, job);
}

function refused({ placeOf }: YamlFile, path: WrittenPath, message: string): Outcome<string> {
  return { ok: false, diagnostics: [{ code: 'wrong-form', place: placeOf(path, 'value'), message }] };
}

function pathOfEdit(edit: JobEdit): WrittenPath {
  switch (edit.kind) {
    case 'limit':
      return ['limits', edit.limit, edit.key];
    case 'field':
      return pathOf(edit.field);
    case 'add':
    case 'remove':
      return ['positions', edit.position];
    default:
      return ['positions', edit.position, ...pathOf(edit.path)];
  }
}

function faultsIn(text: string, file: string): readonly Diagnostic[] {
  const outcome = readJob(text, file);
  return outcome.ok ? [] : outcome.diagnostics;
}

function faultKey({ code, message }: Diagnostic): string {
  return `${code} ${message}`;
}
