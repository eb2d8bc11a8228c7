import type { Board, Limits, Outcome } from '@curvewright/board';
import { crosstalkAnswer, separationsAt, type CrosstalkAnswer } from './crosstalk.ts';
import type { Probe } from './figure.ts';
import { headroom, type ChannelHeadroom } from './headroom.ts';
import { humAnswer, humLevels, type HumAnswer } from './hum.ts';
import { noiseAnswer, type NoiseAnswer } from './noise.ts';
import { polesAnswer, type PolesAnswer } from './poles.ts';
import { settleAnswer, type SettleAnswer } from './settle.ts';
import { programmeVolts } from './source-words.ts';
import type { Steps } from './steps.ts';

/** What a stage does beside its bias and its curve; every list in the order of the channels. */
export interface FurtherAnswers {
  readonly noise: NoiseAnswer;
  readonly hum: HumAnswer;
  readonly crosstalk: CrosstalkAnswer;
  /** Null where the answer was refused: the network has no bias in the form that poles and time need. */
  readonly poles: PolesAnswer | null;
  readonly settle: SettleAnswer | null;
  readonly headroom: readonly ChannelHeadroom[];
}

/** Hz at which the distortion of the programme is told. */
const distortionHz = 1000;

/** The answers of a stage and of varied ones, as far as figures are read off them: each computed when first asked for, and kept. */
export interface FurtherReader {
  /** Each channel's hum re programme, dB, and what it hears of the others at the limit's frequency, dB; null where there is none. */
  hum(probe: Probe): readonly (number | null)[];
  separation(probe: Probe): readonly (number | null)[];
  noise(probe: Probe): NoiseAnswer;
  poles(probe: Probe): PolesAnswer | null;
  settle(probe: Probe): SettleAnswer | null;
  headroom(probe: Probe): readonly ChannelHeadroom[];
}

export function furtherReader(loops: Board['loops'], limits: Limits): FurtherReader {
  const frequencies = [...new Set([limits.overload.at, distortionHz])];
  return {
    hum: kept(({ stage, reader }) => humLevels(stage, reader)),
    separation: kept(({ stage }) => separationsAt(stage, limits.crosstalk.at)),
    noise: kept(({ stage }) => noiseAnswer(stage)),
    poles: kept(({ stage }) => orNull(polesAnswer(stage, loops))),
    settle: kept(({ stage }) => orNull(settleAnswer(stage, { within: limits.settle.within }))),
    headroom: kept(({ stage }) => headroom(stage, frequencies).channels),
  };
}

function kept<T>(read: (probe: Probe) => T): (probe: Probe) => T {
  const answers = new Map<Probe, T>();
  return (probe) => {
    const known = answers.get(probe);
    if (known !== undefined) return known;
    const answer = read(probe);
    answers.set(probe, answer);
    return answer;
  };
}

function orNull<T>(outcome: Outcome<T>): T | null {
  return outcome.ok ? outcome.value : null;
}

/** Every answer of a stage, one a step. */
export function* furtherSteps(probe: Probe, reader: FurtherReader): Steps<FurtherAnswers> {
  const noise = reader.noise(probe);
  const hum = humAnswer(probe.stage);
  const crosstalk = crosstalkAnswer(probe.stage);
  yield 0.1;
  const poles = reader.poles(probe);
  yield 0.25;
  const settle = reader.settle(probe);
  yield 0.4;
  return { noise, hum, crosstalk, poles, settle, headroom: reader.headroom(probe) };
}

/** THD of the programme, %; null where no steady state was found. */
export function programmeThd({ points }: ChannelHeadroom): number | null {
  const at = points.find(
    ({ hz, inputMv }) => hz === distortionHz && Math.abs(inputMv / (1000 * programmeVolts) - 1) < 1e-6,
  );
  return at?.thdPercent ?? null;
}
