import { editJob, type Job, type JobEdit } from '@curvewright/board';
import type { LiveCurves } from '../contract/compute.ts';
import type { Tried, TryRequest } from '../contract/views.ts';
import { layOut, type Bench } from './bench.ts';
import { lastOf } from './drawn.ts';
import { jobRows } from './sheet-rows.ts';
import { stagedView } from './staged-view.ts';

/** The job with this part in all of these positions, as it would be written, solved. */
export function triedOut(bench: Bench, { subject, refs, fit }: TryRequest): Tried {
  const { revision } = subject;
  const { job } = bench.subject;
  if (job === null || subject.job === null) throw new RangeError('a part is tried without a job');
  let { text } = subject.job;
  for (const edit of editsFor(job, refs, fit)) {
    const edited = editJob(text, subject.job.path, edit);
    if (!edited.ok) return { revision, ok: false, diagnostics: edited.diagnostics };
    text = edited.value;
  }
  const laid = layOut({ ...subject, job: { ...subject.job, text } }, bench);
  if (!laid.ok) return { revision, ok: false, diagnostics: laid.diagnostics };
  const last = lastOf(laid.value.staged.states);
  const { numbers, curves } = stagedView(last, laid.value.staged.limits);
  const live: LiveCurves = {
    deviationDb: curves.deviationDb,
    gainDb: numbers.channels.map(({ gainDb }) => gainDb),
    at20HzDb: numbers.channels.map((_, c) => last.probe.reader.deviationDb(c, 20)),
    worstDb: numbers.channels.map(({ worstDeviationDb }) => worstDeviationDb),
    balanceDb: numbers.balanceDb,
  };
  return { revision, ok: true, text, live };
}

/** A change of every row that speaks of one of the positions; a row where none does. */
function editsFor(job: Job, refs: readonly string[], fit: TryRequest['fit']): readonly JobEdit[] {
  const rows = jobRows(job).map(({ key, positions }) => ({ key, refs: positions.map(({ drawn }) => drawn.ref) }));
  const own = rows.filter((row) => row.refs.some((ref) => refs.includes(ref)));
  const without = refs.filter((ref) => !own.some((row) => row.refs.includes(ref)));
  return [
    ...own.map(({ key }): JobEdit => ({ kind: 'set', position: key, path: 'fit', value: fit })),
    ...without.map((ref): JobEdit => ({ kind: 'add', position: ref, entry: { fit } })),
  ];
}
