import type { Board, Limits } from '@curvewright/board';
import { crosstalkAnswer, type CrosstalkAnswer } from './crosstalk.ts';
import { headroom, type ChannelHeadroom } from './headroom.ts';
import { humAnswer, type HumAnswer } from './hum.ts';
import { noiseAnswer, type NoiseAnswer } from './noise.ts';
import { polesAnswer, type PolesAnswer } from './poles.ts';
import { settleAnswer, type SettleAnswer } from './settle.ts';
import { programmeVolts } from './source-words.ts';
import type { Stage } from './stage.ts';

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

export function furtherAnswers(stage: Stage, loops: Board['loops'], limits: Limits): FurtherAnswers {
  const poles = polesAnswer(stage, loops);
  const settle = settleAnswer(stage, { within: limits.settle.within });
  return {
    noise: noiseAnswer(stage),
    hum: humAnswer(stage),
    crosstalk: crosstalkAnswer(stage),
    poles: poles.ok ? poles.value : null,
    settle: settle.ok ? settle.value : null,
    headroom: headroom(stage, [...new Set([limits.overload.at, distortionHz])]).channels,
  };
}

/** THD of the programme, %; null where no steady state was found. */
export function programmeThd({ points }: ChannelHeadroom): number | null {
  const at = points.find(
    ({ hz, inputMv }) => hz === distortionHz && Math.abs(inputMv / (1000 * programmeVolts) - 1) < 1e-6,
  );
  return at?.thdPercent ?? null;
}
