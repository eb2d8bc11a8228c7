import {
  circuitOf,
  mergeLimits,
  type Board,
  type Change,
  type Circuit,
  type Diagnostic,
  type Job,
  type Limits,
  type Outcome,
  type State,
} from '@curvewright/board';
import type { Probe } from './figure.ts';
import { gainReader } from './gain-reader.ts';
import { solveStage } from './stage.ts';

/** A state with its bias found: what is quick to know of it, before all that `checkSteps` asks. */
export interface StagedState {
  readonly state: State;
  readonly probe: Probe;
  /** Designators taken as drawn for want of a pulled part. */
  readonly assumed: readonly string[];
  readonly changed: readonly Change[];
  /** What the job says of parts that no computation takes up. */
  readonly notes: readonly string[];
  /** All that its answers follow from, as text: what has it alike is answered alike. */
  readonly content: string;
}

/** A job, or a board alone, with its states staged: drawn first, and last the one on which the verdict rests. */
export interface StagedJob {
  readonly title: string;
  readonly limits: Limits;
  readonly loops: Board['loops'];
  /** Null for a board alone. */
  readonly job: Job | null;
  readonly states: readonly StagedState[];
  /** A found state without a bias: what keeps it from one. */
  readonly unsolved: readonly Diagnostic[];
}

/** A board file alone: its drawn state. States that `before` has alike are taken from it. */
export function stageBoard(board: Board, before?: StagedJob): Outcome<StagedJob> {
  const limits = mergeLimits(board.limits);
  const view = { circuit: board.circuit, assumed: [], changed: [], notes: [] };
  const drawn = stageState('drawn', view, board.loops, limits, before);
  if (!drawn.ok) return drawn;
  const { title, loops } = board;
  return { ok: true, value: { title, limits, loops, job: null, states: [drawn.value], unsolved: [] } };
}

/** A board and its rework, drawn, found and rebuilt. Refused where drawn or rebuilt has no bias. */
export function stageJob(job: Job, before?: StagedJob): Outcome<StagedJob> {
  const { limits } = job;
  const { loops } = job.board;
  const states: StagedState[] = [];
  const unsolved: Diagnostic[] = [];
  for (const state of ['drawn', 'found', 'rebuilt'] as const) {
    const view = circuitOf(job, state);
    if (view === null) continue;
    const staged = stageState(state, view, loops, limits, before);
    if (staged.ok) states.push(staged.value);
    else if (state === 'found') unsolved.push(...staged.diagnostics);
    else return staged;
  }
  return { ok: true, value: { title: job.entry.title, limits, loops, job, states, unsolved } };
}

function stageState(
  state: State,
  { circuit, ...said }: { readonly circuit: Circuit } & Pick<StagedState, 'assumed' | 'changed' | 'notes'>,
  loops: Board['loops'],
  limits: Limits,
  before: StagedJob | undefined,
): Outcome<StagedState> {
  // Where in the file a part is written moves with every line above it, and changes nothing.
  const content = JSON.stringify({ state, circuit, said, loops, limits }, (key, value: unknown) =>
    key === 'place' ? undefined : value,
  );
  const same = before?.states.find((each) => each.content === content);
  if (same !== undefined) return { ok: true, value: same };
  const stage = solveStage(circuit);
  if (!stage.ok) return stage;
  const probe = { stage: stage.value, reader: gainReader(stage.value) };
  return { ok: true, value: { state, probe, ...said, content } };
}
