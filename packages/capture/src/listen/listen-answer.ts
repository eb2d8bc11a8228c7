import type { SignalPlan } from '../signal/signal-plan.ts';
import type { Wav } from '../wav/wav.ts';
import type { ChannelNoise } from './channel-noise.ts';
import type { ListenPoint } from './corrected.ts';
import type { CrosstalkPoint } from './crosstalk-points.ts';
import type { Problem } from './problem.ts';
import type { ResponseTable } from './response-table.ts';

/** A recording, and what is known of all that is not the board. */
export interface ListenInput {
  readonly plan: SignalPlan;
  readonly recording: Wav;
  /** The same signal from the player straight to the recorder. */
  readonly loopback: Wav | null;
  /** Nothing played, the board's input shorted. */
  readonly shorted: Wav | null;
  /** From the player to the board's input, where the loop-back does not hold it. */
  readonly adapter: ResponseTable | null;
  /** From the board's output to the recorder, likewise. */
  readonly chain: ResponseTable | null;
  /** V rms at the board's input during the 1 kHz tone, or at 1 kHz of the sweep. */
  readonly level: number | null;
  /** V rms of a sine that reaches the recorder's full scale. */
  readonly fullScale: number | null;
}

export interface ListenAnswer {
  /** Empty where no marker was found. */
  readonly channels: readonly ListenChannel[];
  /** Largest level difference between the channels from 30 Hz to 15 kHz, dB. */
  readonly balanceDb: number | null;
  readonly crosstalk: readonly CrosstalkPoint[];
  /** `ppm`: how much faster the recorder's clock runs than the player's; `offsetS`: from the start of the recording to that of the signal. */
  readonly clock: { readonly ppm: number | null; readonly offsetS: number } | null;
  readonly problems: readonly Problem[];
}

export interface ListenChannel {
  readonly name: string;
  /** At 1 kHz; null without calibration. */
  readonly gainDb: number | null;
  /** Signed, of the points from 30 Hz to 15 kHz. */
  readonly worstDeviationDb: number | null;
  readonly worstHz: number | null;
  readonly points: readonly ListenPoint[];
  readonly noise: ChannelNoise | null;
}
