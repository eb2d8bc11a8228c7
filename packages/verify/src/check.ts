import type { Board, Diagnostic, Job, Limits, Outcome } from '@curvewright/board';
import type { Probe } from './figure.ts';
import { furtherReader, furtherSteps } from './further-answers.ts';
import type { Finding } from './finding.ts';
import { findingSteps } from './findings.ts';
import { fitFindings } from './fit/fit-findings.ts';
import { worstLevel, type Level } from './judge.ts';
import { measuredAnswer, type MeasuredAnswer } from './measured/measured-answer.ts';
import type { Measurement } from './measured/measurement.ts';
import { positionEffects, type PositionEffect } from './position-effects.ts';
import { withReach } from './spread/with-reach.ts';
import { stageBoard, stageJob, type StagedJob, type StagedState } from './staged-job.ts';
import { stateAnswer, type SolvedState, type StateAnswer } from './state-answer.ts';
import { atOnce, within, type Steps } from './steps.ts';

export interface CheckAnswer {
  readonly title: string;
  readonly channels: readonly string[];
  readonly limits: Limits;
  readonly states: {
    readonly drawn: StateAnswer;
    /** Null where the job says nothing of pulled parts, or where no bias was found (see `unsolved`). */
    readonly found: StateAnswer | null;
    readonly rebuilt: StateAnswer | null;
    /** Null where the job names nothing measured, or where it was not read. */
    readonly measured: MeasuredAnswer | null;
  };
  /** A found state without a bias: what keeps it from one. */
  readonly unsolved: readonly Diagnostic[];
  /** What each position of the rework does when it alone is done. */
  readonly effects: readonly PositionEffect[];
  readonly findings: readonly Finding[];
  readonly verdict: Level;
}

/** The main job for a board file alone: its drawn state against the curve. */
export function checkBoard(board: Board): Outcome<CheckAnswer> {
  const staged = stageBoard(board);
  return staged.ok ? { ok: true, value: atOnce(checkSteps(staged.value)) } : staged;
}

/** The main job: a board and its rework, drawn, found and rebuilt, and what was measured of it. Refused where drawn or rebuilt has no bias. */
export function checkJob(job: Job, measurement: Measurement | null = null): Outcome<CheckAnswer> {
  const staged = stageJob(job);
  if (!staged.ok) return staged;
  const answer = atOnce(checkSteps(staged.value));
  if (measurement === null) return { ok: true, value: answer };
  const measured = measuredAnswer(staged.value, measurement);
  return { ok: true, value: { ...answer, states: { ...answer.states, measured } } };
}

interface CheckedState {
  readonly solved: SolvedState;
  readonly answer: StateAnswer;
  readonly findings: readonly Finding[];
}

/** What was answered of states, for the next check that meets them again. */
export type CheckMemory = WeakMap<
  StagedState,
  CheckedState & { readonly drawn: StagedState; readonly counts: boolean }
>;

/** The whole check of staged states, which takes seconds, in steps of some tenths of one. */
export function* checkSteps(staged: StagedJob, memory: CheckMemory = new WeakMap()): Steps<CheckAnswer> {
  const { title, limits, job, states, unsolved } = staged;
  const [first] = states;
  if (first === undefined) throw new RangeError('a check without a state');
  const counting = states.at(-1);
  const checked: CheckedState[] = [];
  for (const [n, each] of states.entries()) {
    const counts = each === counting;
    const known = memory.get(each);
    if (known?.drawn === first && known.counts === counts) checked.push(known);
    else {
      const steps = stateSteps(each, staged, checked[0]?.solved.probe ?? null, counts);
      const made = yield* within(n / states.length, (n + 1) / states.length, steps);
      memory.set(each, { ...made, drawn: first, counts });
      checked.push(made);
    }
  }
  const drawn = checked[0]!.solved.probe;
  const answers = new Map(checked.map(({ solved, answer }) => [solved.state, answer]));
  const findings = checked.flatMap((each) => each.findings);
  return {
    title,
    channels: drawn.stage.circuit.channels.map(({ name }) => name),
    limits,
    states: {
      drawn: answers.get('drawn')!,
      found: answers.get('found') ?? null,
      rebuilt: answers.get('rebuilt') ?? null,
      measured: null,
    },
    unsolved,
    effects: job === null ? [] : positionEffects(job, drawn, states.at(-1)!.changed),
    findings,
    verdict: worstLevel(findings.filter(({ counts }) => counts).map(({ level }) => level)),
  };
}

/** `drawn` is null for the drawn state itself. */
function* stateSteps(
  staged: StagedState,
  { limits, loops, job }: StagedJob,
  drawn: Probe | null,
  counts: boolean,
): Steps<CheckedState> {
  const probe = drawn === null && job !== null ? withReach(staged.probe, job.board) : staged.probe;
  yield 0.1;
  const reader = furtherReader(loops, limits);
  const further = yield* within(0.1, 0.6, furtherSteps(probe, reader));
  const solved = { ...staged, probe, further, reader };
  const findings = yield* within(0.6, 1, findingSteps(solved, limits, drawn ?? probe, counts));
  const fit = fitFindings(solved, limits, drawn, counts);
  return { solved, answer: stateAnswer(solved, limits), findings: [...findings, ...fit] };
}
