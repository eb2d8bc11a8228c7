import type { CheckAnswer, StagedState } from '@curvewright/verify';
import type { RowEffect, SheetRow, SheetView } from '../contract/sheet.ts';
import { addablePositions } from './addable.ts';
import type { Bench } from './bench.ts';
import { jobHead } from './job-head.ts';
import { rowEffect, type JobRow } from './row-effect.ts';
import { jobRows, sheetRow, writtenPositions } from './sheet-rows.ts';
import { stagedView, type StagedView } from './staged-view.ts';

/** The sheet as far as it is quick to know: no verdict, no findings, no hiss. */
export function quickView(bench: Bench): SheetView {
  const { job } = bench.subject;
  return { ...states(bench), rows: job === null ? [] : rowsOf(bench, null, (row) => rowEffect(bench, job, row)) };
}

/** The sheet with what the check says, and the rows with `effects`, by their keys. */
export function toldView(bench: Bench, check: CheckAnswer, effects: ReadonlyMap<string, RowEffect | null>): SheetView {
  return { ...states(bench), rows: rowsOf(bench, check, ({ key }) => effects.get(key) ?? null), check };
}

function states(bench: Bench): Omit<SheetView, 'rows'> {
  const { title, limits, states, unsolved, job } = bench.staged;
  const [drawn] = states;
  const views = states.map((each) => viewOf(bench, each));
  return {
    title,
    channels: drawn?.probe.stage.circuit.channels.map(({ name }) => name) ?? [],
    limits,
    states: views.map(({ numbers }) => numbers),
    unsolved,
    curves: views.map(({ curves }) => curves),
    positions: bench.subject.board.positions,
    head: job === null ? null : jobHead(job),
    addable: job === null ? [] : addablePositions(job),
    check: null,
  };
}

function viewOf({ views, staged }: Bench, state: StagedState): StagedView {
  const known = views.get(state);
  if (known !== undefined) return known;
  const made = stagedView(state, staged.limits);
  views.set(state, made);
  return made;
}

function rowsOf(
  { subject, staged }: Bench,
  check: CheckAnswer | null,
  effectOf: (row: JobRow) => RowEffect | null,
): readonly SheetRow[] {
  const { job, text } = subject;
  const rebuilt = staged.states.at(-1);
  if (job === null || rebuilt === undefined) return [];
  const context = {
    job,
    written: writtenPositions(text.job?.text ?? ''),
    rebuilt,
    findings: check?.findings ?? [],
  };
  return jobRows(job).flatMap((row) => sheetRow(row, effectOf(row), context) ?? []);
}
