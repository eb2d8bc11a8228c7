import type { SignalPlan } from '../signal/signal-plan.ts';
import type { Wav } from '../wav/wav.ts';
import type { LaidChannel } from './channel-response.ts';
import { recordedChannels } from './feeds.ts';
import type { Trouble } from './problem.ts';
import type { Laid } from './stretches.ts';
import { alignment, type Timeline } from './timeline.ts';

/** A recording laid beside its plan, channel by channel. */
export interface LaidRecording {
  readonly timeline: Timeline | null;
  readonly channels: readonly LaidChannel[];
  readonly troubles: readonly Trouble[];
  readonly mixed: boolean;
}

export function layRecording(plan: SignalPlan, wav: Wav): LaidRecording {
  const { timeline, troubles: found } = alignment(plan, wav);
  const lost = wav.lost.map((message): Trouble => ({
    code: 'truncated',
    channel: null,
    fromS: null,
    toS: null,
    message,
  }));
  if (timeline === null) return { timeline, channels: [], troubles: [...lost, ...found], mixed: false };
  const laid: Laid = { plan, wav, timeline };
  const { channels, troubles } = recordedChannels(laid);
  return {
    timeline,
    channels: channels.map((channel) => ({ laid, ...channel })),
    troubles: [...lost, ...found, ...troubles],
    mixed: troubles.some(({ code }) => code === 'mono-mix'),
  };
}
