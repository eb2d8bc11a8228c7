import { stageSheet, type CheckAnswer, type StagedState } from '@curvewright/verify';
import type { RowEffect, SheetRow, SheetView, StateCurves, StateNumbers } from '../contract/sheet.ts';
import type { Bench } from './bench.ts';
import { rowEffect, type JobRow } from './row-effect.ts';
import { jobRows, sheetRow, writtenPositions } from './sheet-rows.ts';
import { stateCurves } from './state-curves.ts';

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
  const { title, limits, states, unsolved } = bench.staged;
  const [drawn] = states;
  return {
    title,
    channels: drawn?.probe.stage.circuit.channels.map(({ name }) => name) ?? [],
    limits,
    states: states.map((each): StateNumbers => ({
      state: each.state,
      assumed: each.assumed,
      ...stageSheet(each.probe.stage, limits, each.probe.reader),
    })),
    unsolved,
    curves: states.map((each) => curvesOf(bench, each)),
    check: null,
  };
}

function curvesOf({ curves, staged }: Bench, state: StagedState): StateCurves {
  const known = curves.get(state);
  if (known !== undefined) return known;
  const made = stateCurves(state, staged.limits);
  curves.set(state, made);
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
