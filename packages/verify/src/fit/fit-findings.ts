import type { Limits, State } from '@curvewright/board';
import type { Probe } from '../figure.ts';
import type { Finding } from '../finding.ts';
import type { FurtherAnswers } from '../further-answers.ts';
import { fitRows } from './fit-rows.ts';
import type { FitRow } from './fit-row.ts';

/** A state with what its answers say of the way up. */
interface FittedState {
  readonly state: State;
  readonly probe: Probe;
  readonly further: Pick<FurtherAnswers, 'settle'>;
}

/**
 * Whether the parts of a state survive, stand the right way round and go in. Of what is good, the one with the least share to spare is
 * listed for each question and channel; how a part goes into its holes is listed for every one. `drawn` is null for the drawn state itself.
 */
export function fitFindings(
  { state, probe, further }: FittedState,
  { ratings }: Limits,
  drawn: Probe | null,
  counts: boolean,
): readonly Finding[] {
  const context = { stage: probe.stage, drawn: drawn?.stage ?? null, ratings, settle: further.settle };
  return telling(fitRows(context)).map((row) => ({ ...row, state, counts }));
}

function telling(rows: readonly FitRow[]): readonly FitRow[] {
  const question = ({ channel, what, where }: FitRow): string => `${channel ?? ''} ${what} ${where}`;
  const tightest = new Map<string, FitRow>();
  for (const row of rows.filter(({ level }) => level === 'good')) {
    const before = tightest.get(question(row));
    if (before === undefined || spare(row) < spare(before)) tightest.set(question(row), row);
  }
  return rows.filter((row) => row.level !== 'good' || row.what === 'leads' || tightest.get(question(row)) === row);
}

/** The margin as a share of what is allowed; of a polarity in V, as less than none is asked for. */
function spare({ what, value, margin }: FitRow): number {
  return what === 'polarity' ? margin : margin / (Math.abs(value) + margin || 1);
}
