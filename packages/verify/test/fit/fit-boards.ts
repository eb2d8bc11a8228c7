import { circuitOf, mergeLimits, type Board, type Circuit, type Job, type Limits } from '@curvewright/board';
import { fitRows, settleAnswer, type FitName, type FitRow } from '../../src/index.ts';
import { jobOn, monoBoard, stageOf } from '../stages.ts';

/** A signal path that asks nothing of any part, beside which others stand. */
const path = `
  R1: { kind: resistor, value: 47 kΩ, between: [in, gnd] }
  R2: { kind: resistor, value: 1 kΩ, between: [in, out] }
  R3: { kind: resistor, value: 100 kΩ, between: [out, gnd] }`;

/** A board with a 20 V rail that has no resistance of its own, unless `more` says otherwise. */
export function boardWith(parts: string, more: string = 'rails: { vcc: { volts: 20 V } }'): Board {
  return monoBoard(`${path}\n${parts}`, more);
}

export function rowsOf(
  circuit: Circuit,
  drawn: Circuit | null = null,
  limits: Limits = mergeLimits(),
): readonly FitRow[] {
  const stage = stageOf(circuit);
  const settle = settleAnswer(stage, { within: 0.01 });
  return fitRows({
    stage,
    drawn: drawn && stageOf(drawn),
    ratings: limits.ratings,
    settle: settle.ok ? settle.value : null,
  });
}

/** What the rebuilt state of a job is asked. */
function rebuiltRows(job: Job): readonly FitRow[] {
  return rowsOf(circuitOf(job, 'rebuilt')!.circuit, circuitOf(job, 'drawn')!.circuit, job.limits);
}

/** The board as drawn with this fitted, one position a line. */
export function fittedRows(board: Board, positions: string, more: string = ''): readonly FitRow[] {
  return rebuiltRows(jobOn(board, positions, more));
}

/** The one answer to a question about a part; undefined where it was not asked. */
export function rowOf(rows: readonly FitRow[], ref: string, what: FitName, where?: string): FitRow | undefined {
  const found = rows.filter(
    (row) => row.ref === ref && row.what === what && (where === undefined || row.where === where),
  );
  if (found.length > 1) throw new Error(`${ref} is asked ${found.length} times for ${what}`);
  return found[0];
}
