import type { Board, Limits } from '@curvewright/board';
import { crosstalkAnswer, type CrosstalkAnswer } from './crosstalk.ts';
import { thdAt, type Overload } from './headroom.ts';
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
  readonly overload: readonly Overload[];
  /** THD of the programme at 1 kHz, a fraction; null where no steady state was found. */
  readonly thd: readonly (number | null)[];
}

export function furtherAnswers(stage: Stage, loops: Board['loops'], limits: Limits): FurtherAnswers {
  const channels = stage.circuit.channels.map((_, channel) => channel);
  const poles = polesAnswer(stage, loops);
  const settle = settleAnswer(stage, { within: limits.settle.within });
  return {
    noise: noiseAnswer(stage),
    hum: humAnswer(stage),
    crosstalk: crosstalkAnswer(stage),
    poles: poles.ok ? poles.value : null,
    settle: settle.ok ? settle.value : null,
    overload: [],
    thd: channels.map((channel) => thdAt(stage, channel, 1000, programmeVolts)),
  };
}
