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
import { inputAdmittance } from '@curvewright/network';
import { causeOf, type Cause, type CauseContext } from './cause.ts';
import { figuresOf, type Figure, type Probe } from './figure.ts';
import type { Finding } from './finding.ts';
import { furtherAnswers, type FurtherAnswers } from './further-answers.ts';
import { gainReader } from './gain-reader.ts';
import { idealFigures, type IdealFigure } from './ideal-figures.ts';
import { levelOf, marginTo, worstLevel, type Judged, type Level } from './judge.ts';
import { positionEffects, type PositionEffect } from './position-effects.ts';
import { solveStage } from './stage.ts';
import { deviationCurves, stageSheet, type ChannelSheet, type StageSheet } from './stage-sheet.ts';
import { toldFigures, type ToldFigure } from './told-figures.ts';
import { variantsOf } from './variants.ts';

/** A channel's sheet with what the further answers give of it; null where there is no such answer. */
export interface ChannelAnswer extends ChannelSheet {
  /** A-weighted, input shorted, referred to the input. */
  readonly hissUv: number;
  /** At 1 kHz: what this channel hears of the other. */
  readonly crosstalkDb: number | null;
  /** Re 5 mV programme. */
  readonly humDb: number | null;
  /** At the overload limit's frequency. */
  readonly overloadMv: number | null;
  /** Of 5 mV at 1 kHz. */
  readonly thdPercent: number | null;
  readonly settleS: number | null;
  /** At 1 kHz. */
  readonly inputOhms: number;
}

/** What the stage does in one state. */
export interface StateAnswer extends StageSheet {
  readonly channels: readonly ChannelAnswer[];
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
  readonly further: FurtherAnswers;
  readonly assumed: readonly string[];
  readonly changed: readonly Change[];
  readonly notes: readonly string[];
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
  loops: Board['loops'],
  limits: Limits,
  { assumed, changed, notes }: Pick<SolvedState, 'assumed' | 'changed' | 'notes'> = {
    assumed: [],
    changed: [],
    notes: [],
  },
): Outcome<SolvedState> {
  const stage = solveStage(circuit);
  if (!stage.ok) return stage;
  const probe = { stage: stage.value, reader: gainReader(stage.value) };
  const further = furtherAnswers(stage.value, loops, limits);
  return { ok: true, value: { state, probe, further, assumed, changed, notes } };
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

function stateAnswer({ probe, further, assumed, changed, notes }: SolvedState, limits: Limits): StateAnswer {
  const { stage, reader } = probe;
  const sheet = stageSheet(stage, limits, reader);
  const curves = deviationCurves(stage, reader, curveDensity);
  return {
    assumed,
    balanceDb: sheet.balanceDb,
    channels: sheet.channels.map((channel, i) => ({ ...channel, ...furtherOf(further, probe, i) })),
    changed,
    notes,
    ideal: idealFigures(stage.circuit),
    residuals: { kirchhoffRatio: stage.point.kirchhoffRatio, response: reader.residual() },
    curves,
  };
}

function furtherOf(
  { noise, hum, crosstalk, settle, overload, thd }: FurtherAnswers,
  { stage }: Probe,
  channel: number,
): Omit<ChannelAnswer, keyof ChannelSheet> {
  const fraction = thd[channel] ?? null;
  return {
    hissUv: noise.channels[channel]!.inputAWeightedUv,
    crosstalkDb: crosstalk.channels[channel]?.crosstalkDb ?? null,
    humDb: hum.channels[channel]?.humDb ?? null,
    overloadMv: overload[channel]?.inputMv ?? null,
    thdPercent: fraction === null ? null : 100 * fraction,
    settleS: settle?.channels[channel]?.settleS ?? null,
    inputOhms: 1 / inputAdmittance(stage.small, channel)(1000)[0],
  };
}

/**
 * The figures of a state as findings. Of the node voltages that are good only the one with the least margin is listed;
 * gain and node voltages have nothing to be held against in the drawn state.
 */
function findingsOf(
  { state, probe, further, changed }: SolvedState,
  limits: Limits,
  drawn: Probe,
  counts: boolean,
): readonly Finding[] {
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
  const finding = (figure: Judged, cause: Cause): Finding => {
    const channel = figure.channel === null ? null : probe.stage.circuit.channels[figure.channel]!.name;
    const { what, value, unit, where } = figure;
    const margin = marginTo(figure, figure.good);
    return { level: levelOf(figure), what, state, channel, counts, value, margin, unit, where, ...cause };
  };
  return [
    ...judgedFigures(figures).map((figure) => finding(figure, causeOf(figure, context))),
    ...toldFigures(probe.stage, further, limits).map((figure) => finding(figure, toldCause(figure))),
  ];
}

function toldCause(figure: ToldFigure): Cause {
  const { ref, cause, remedy } = figure;
  return { ref, cause, next: levelOf(figure) === 'good' ? 'no change needed' : remedy };
}

function judgedFigures(figures: readonly Figure[]): readonly Figure[] {
  const nodes = figures.filter(({ what }) => what === 'node_volts');
  const tightest = nodes.toSorted((a, b) => marginTo(a, a.good) - marginTo(b, b.good))[0];
  return figures.filter((figure) => figure.what !== 'node_volts' || figure === tightest || levelOf(figure) !== 'good');
}
