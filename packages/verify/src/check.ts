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
import { causeOf, type CauseContext } from './cause.ts';
import { figuresOf, type Figure, type Probe } from './figure.ts';
import type { Finding } from './finding.ts';
import { gainReader } from './gain-reader.ts';
import { idealFigures, type IdealFigure } from './ideal-figures.ts';
import { levelOf, marginTo, worstLevel, type Level } from './judge.ts';
import { positionEffects, type PositionEffect } from './position-effects.ts';
import { solveStage } from './stage.ts';
import { deviationCurves, stageSheet, type StageSheet } from './stage-sheet.ts';
import { variantsOf } from './variants.ts';

/** What the stage does in one state. */
export interface StateAnswer extends StageSheet {
  /** Designators taken as drawn for want of a pulled part. */
  readonly assumed: readonly string[];
  readonly changed: readonly Change[];
  /** What the job says of parts that no computation takes up. */
  readonly notes: readonly string[];
  /** Figures on which the answer leans and the file is silent: taken as ideal. */
  readonly ideal: readonly IdealFigure[];
  /** Largest Kirchhoff sum of any node at the bias over what rounding allows, and largest residual of the response. */
  readonly residuals: { readonly kirchhoffRatio: number; readonly response: number };
  /** Deviation on a fine grid, for charts. */
  readonly curves: { readonly hz: readonly number[]; readonly channels: readonly (readonly number[])[] };
}

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

interface SolvedState {
  readonly state: State;
  readonly probe: Probe;
  readonly assumed: readonly string[];
  readonly changed: readonly Change[];
  readonly notes: readonly string[];
}

/** The main job for a board file alone: its drawn state against the curve. */
export function checkBoard(board: Board): Outcome<CheckAnswer> {
  const limits = mergeLimits(board.limits);
  const drawn = solveState('drawn', board.circuit);
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
    const outcome = solveState(state, view.circuit, view);
    if (outcome.ok) solved.push(outcome.value);
    else if (state === 'found') unsolved.push(...outcome.diagnostics);
    else return outcome;
  }
  const effects = positionEffects(job, solved[0]!.probe, solved.at(-1)!.changed);
  return { ok: true, value: answer(job.entry.title, limits, solved, unsolved, effects) };
}

function solveState(
  state: State,
  circuit: Circuit,
  { assumed, changed, notes }: Pick<SolvedState, 'assumed' | 'changed' | 'notes'> = {
    assumed: [],
    changed: [],
    notes: [],
  },
): Outcome<SolvedState> {
  const stage = solveStage(circuit);
  if (!stage.ok) return stage;
  const probe = { stage: stage.value, reader: gainReader(stage.value) };
  return { ok: true, value: { state, probe, assumed, changed, notes } };
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

/** Points per decade of the curves in an answer. */
const curveDensity = 20;

function stateAnswer({ probe, assumed, changed, notes }: SolvedState, limits: Limits): StateAnswer {
  const { stage, reader } = probe;
  const sheet = stageSheet(stage, limits, reader);
  const curves = deviationCurves(stage, reader, curveDensity);
  return {
    assumed,
    ...sheet,
    changed,
    notes,
    ideal: idealFigures(stage.circuit),
    residuals: { kirchhoffRatio: stage.point.kirchhoffRatio, response: reader.residual() },
    curves,
  };
}

/**
 * The figures of a state as findings. Of the node voltages that are good only the one with the least margin is listed;
 * gain and node voltages have nothing to be held against in the drawn state.
 */
function findingsOf({ state, probe, changed }: SolvedState, limits: Limits, drawn: Probe, counts: boolean): Finding[] {
  const reference = state === 'drawn' ? null : drawn;
  const figures = figuresOf(probe, limits, reference);
  const variants = variantsOf(probe, drawn.stage.circuit);
  const context: CauseContext = {
    probe,
    drawn: reference,
    changes: changed,
    figures,
    limits,
    variants,
    seekRemedy: counts,
  };
  return judgedFigures(figures).map((figure) => {
    const channel = figure.channel === null ? null : probe.stage.circuit.channels[figure.channel]!.name;
    const { what, value, unit, where } = figure;
    const margin = marginTo(figure, figure.good);
    return {
      level: levelOf(figure),
      what,
      state,
      channel,
      counts,
      value,
      margin,
      unit,
      where,
      ...causeOf(figure, context),
    };
  });
}

function judgedFigures(figures: readonly Figure[]): readonly Figure[] {
  const nodes = figures.filter(({ what }) => what === 'node_volts');
  const tightest = nodes.toSorted((a, b) => marginTo(a, a.good) - marginTo(b, b.good))[0];
  return figures.filter((figure) => figure.what !== 'node_volts' || figure === tightest || levelOf(figure) !== 'good');
}
