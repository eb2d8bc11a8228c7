import type { JobEdit } from './job-edit.ts';
import { withoutPosition, withoutPositions, withPosition } from './edit-position.ts';
import { positionsFrom, withEntry, type EditedPositions, type Positions } from './positions.ts';
import { pathOf, withoutValue, withValue, type WrittenPath } from './written-path.ts';
import { isWrittenMap, type Written, type WrittenMap } from './written.ts';

/** What a job shall say after an edit, or why it cannot and where. */
export type EditedJob =
  | { readonly ok: true; readonly job: WrittenMap; readonly renamed?: EditedPositions['renamed'] }
  | { readonly ok: false; readonly path: WrittenPath; readonly message: string };

/** The job with an edit made, as plain data. */
export function editedJob(job: WrittenMap, edit: JobEdit): EditedJob {
  if (edit.kind === 'limit' || edit.kind === 'field') {
    const path = edit.kind === 'limit' ? ['limits', edit.limit, edit.key] : pathOf(edit.field);
    return fieldEdited(job, path, edit.value);
  }
  const read = positionsFrom(job.positions);
  if ('strange' in read) {
    const path = read.strange === null ? ['positions'] : ['positions', read.strange];
    return { ok: false, path, message: `${path.at(-1)} stands for no keys; write { fit: …, why: … }` };
  }
  const edited = positionsEdited(read.positions, edit);
  if ('message' in edited) return { ok: false, ...edited };
  const { positions, ...renamed } = edited;
  return { ok: true, job: withPositions(job, positions), ...renamed };
}

/** The job with these positions, empty values left as empty as they were written. */
function withPositions(job: WrittenMap, positions: Positions): WrittenMap {
  const written = isWrittenMap(job.positions) ? job.positions : {};
  const entries = Object.entries(positions).map(([key, entry]): [string, Written] => {
    const wasEmpty = Object.hasOwn(written, key) && written[key] === null;
    return [key, wasEmpty && Object.keys(entry).length === 0 ? null : entry];
  });
  return entries.length === 0 && !isWrittenMap(job.positions)
    ? job
    : { ...job, positions: Object.fromEntries(entries) };
}

function positionsEdited(
  positions: Positions,
  edit: Exclude<JobEdit, { kind: 'limit' | 'field' }>,
): EditedPositions | { readonly path: WrittenPath; readonly message: string } {
  const { position } = edit;
  switch (edit.kind) {
    case 'set': {
      const path = pathOf(edit.path);
      const changed = withPosition(positions, position, path, edit.value);
      if (changed !== null) return { positions: changed };
      const message = `${position} has no ${edit.path}: a list or a text stands in the way; write ${String(path[0])} anew`;
      return { path: ['positions', position, ...path], message };
    }
    case 'clear':
      return withoutPosition(positions, position, pathOf(edit.path));
    case 'add': {
      if (!Object.hasOwn(positions, position)) {
        return { positions: withEntry(positions, position, edit.entry) };
      }
      const message = `${position} is in the job already; change what it says there`;
      return { path: ['positions', position], message };
    }
    case 'remove':
      return withoutPositions(positions, position);
  }
}

function fieldEdited(job: WrittenMap, path: WrittenPath, value: Written): EditedJob {
  if (value === null) return { ok: true, job: (withoutValue(job, path) ?? {}) as WrittenMap };
  const changed = withValue(job, path, value);
  if (changed !== undefined) return { ok: true, job: changed as WrittenMap };
  const message = `${path.join(' ')} cannot be set: a list or a text stands in the way; write ${String(path[0])} with keys`;
  return { ok: false, path, message };
}
