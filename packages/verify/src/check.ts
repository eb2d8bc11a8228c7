import {
  circuitOf,
  mergeLimits,
  type Board,
  type Diagnostic,
  type Job,
  type Limits,
  type Outcome,
} from '@curvewright/board';
import type { Finding } from './finding.ts';
import { findingsOf } from './findings.ts';
import { worstLevel, type Level } from './judge.ts';
import { positionEffects, type PositionEffect } from './position-effects.ts';
import { nodeReach } from './spread/node-bands.ts';
import { solveState, stateAnswer, type SolvedState, type StateAnswer } from './state-answer.ts';

export interface CheckAnswer {
  readonly title: string;
  readonly channels: readonly string[];
  readonly limits: Limits;
  readonly states: {
    readonly drawn: StateAnswer;
    /** Null where the job says nothing of pulled parts, or where no bias was found (see `unsolved`). */
    readonly found: StateAnswer | null;
    readonly rebuilt: StateAnswer | null;
    readonly measured: null;
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
  const limits = mergeLimits(board.limits);
  const drawn = solveState('drawn', board.circuit, board.loops, limits);
  if (!drawn.ok) return drawn;
  return { ok: true, value: answer(board.title, limits, [drawn.value], [], []) };
}

/** The main job: a board and its rework, drawn, found and rebuilt. Refused where drawn or rebuilt has no bias. */
export function checkJob(job: Job): Outcome<CheckAnswer> {
  const limits = job.limits;
  const solved: SolvedState[] = [];
  const unsolved: Diagnostic[] = [];
  for (const state of ['drawn', 'found', 'rebuilt'] as const) {
    const view = circuitOf(job, state);
    if (view === null) continue;
    const outcome = solveState(state, view.circuit, job.board.loops, limits, view);
    if (outcome.ok) solved.push(state === 'drawn' ? withReach(outcome.value, job) : outcome.value);
    else if (state === 'found') unsolved.push(...outcome.diagnostics);
    else return outcome;
  }
  const effects = positionEffects(job, solved[0]!.probe, solved.at(-1)!.changed);
  return { ok: true, value: answer(job.entry.title, limits, solved, unsolved, effects) };
}

/** The drawn state with how far the bias of its nodes strays on healthy boards, which other states are held against. */
function withReach(drawn: SolvedState, { board }: Job): SolvedState {
  return { ...drawn, probe: { ...drawn.probe, nodeReach: nodeReach(drawn.probe.stage, board.matched) } };
}

function answer(
  title: string,
  limits: Limits,
  solved: readonly SolvedState[],
  unsolved: readonly Diagnostic[],
  effects: readonly PositionEffect[],
): CheckAnswer {
  const drawn = solved[0]!.probe;
  const counting = solved.at(-1)!.state;
  const findings = solved.flatMap((each) => findingsOf(each, limits, drawn, each.state === counting));
  const answers = new Map(solved.map((each) => [each.state, stateAnswer(each, limits)]));
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
    effects,
    findings,
    verdict: worstLevel(findings.filter(({ counts }) => counts).map(({ level }) => level)),
  };
}
