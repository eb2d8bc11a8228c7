import type { Change, Limits } from '@curvewright/board';
import { inputAdmittance } from '@curvewright/network';
import type { Probe } from './figure.ts';
import { programmeThd, type FurtherAnswers, type FurtherReader } from './further-answers.ts';
import { idealFigures, type IdealFigure } from './ideal-figures.ts';
import { stabilityFigures, type StabilityFigures } from './stability.ts';
import type { StagedState } from './staged-job.ts';
import { deviationCurves, stageSheet, type ChannelSheet, type StageSheet } from './stage-sheet.ts';

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
  /** Null where the poles could not be found. */
  readonly stability: StabilityFigures | null;
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

/** A staged state with its further answers. */
export interface SolvedState extends StagedState {
  readonly further: FurtherAnswers;
  /** Reads the same answers off varied stages. */
  readonly reader: FurtherReader;
}

/** Points per decade of the curves in an answer. */
const curveDensity = 20;

export function stateAnswer({ probe, further, assumed, changed, notes }: SolvedState, limits: Limits): StateAnswer {
  const { stage, reader } = probe;
  const sheet = stageSheet(stage, limits, reader);
  const curves = deviationCurves(stage, reader, curveDensity);
  return {
    assumed,
    balanceDb: sheet.balanceDb,
    channels: sheet.channels.map((channel, i) => ({ ...channel, ...furtherOf(further, probe, i) })),
    stability: further.poles === null ? null : stabilityFigures(further.poles),
    changed,
    notes,
    ideal: idealFigures(stage.circuit),
    residuals: { kirchhoffRatio: stage.point.kirchhoffRatio, response: reader.residual() },
    curves,
  };
}

function furtherOf(
  { noise, hum, crosstalk, settle, headroom }: FurtherAnswers,
  { stage }: Probe,
  channel: number,
): Omit<ChannelAnswer, keyof ChannelSheet> {
  const driven = headroom[channel];
  return {
    hissUv: noise.channels[channel]!.inputAWeightedUv,
    crosstalkDb: crosstalk.channels[channel]?.crosstalkDb ?? null,
    humDb: hum.channels[channel]?.humDb ?? null,
    overloadMv: driven?.overload[0]?.inputMv ?? null,
    thdPercent: driven ? programmeThd(driven) : null,
    settleS: settle?.channels[channel]?.settleS ?? null,
    inputOhms: 1 / inputAdmittance(stage.small, channel)(1000)[0],
  };
}
