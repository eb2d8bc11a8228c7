import type { Segment, SignalPlan } from '../signal/signal-plan.ts';
import type { Wav } from '../wav/wav.ts';
import { onPlayerClock } from './player-clock.ts';
import type { Timeline } from './timeline.ts';

/** A recording laid beside the plan that was played. */
export interface Laid {
  readonly plan: SignalPlan;
  readonly wav: Wav;
  readonly timeline: Timeline;
}

/** A stretch of one channel at the plan's rate, on the player's clock; zeros where the recording has ended. */
export function stretchOf({ plan, timeline }: Laid, samples: Float64Array, at: number, seconds: number): Float64Array {
  const { from, step } = timeline;
  return onPlayerClock(samples, { from: from + at * plan.rate * step, step, length: Math.round(seconds * plan.rate) });
}

/** The moment in s from the start of the recording at which a moment of the plan was recorded. */
export function recordedAt({ plan, wav, timeline: { from, step } }: Laid, at: number): number {
  return (from + at * plan.rate * step) / wav.rate;
}

/** Whether a stretch of the plan is in the recording as a whole. */
export function isThere(laid: Laid, { at, seconds }: Pick<Segment, 'at' | 'seconds'>): boolean {
  return recordedAt(laid, at) >= 0 && recordedAt(laid, at + seconds) <= laid.wav.frames / laid.wav.rate;
}

/** Quiet before and after a segment, s: the gap to its neighbours, not more than one. */
export function quietAround(
  { segments, seconds }: SignalPlan,
  segment: Segment,
): { readonly before: number; readonly after: number } {
  const n = segments.indexOf(segment);
  const [previous, next] = [segments[n - 1], segments[n + 1]];
  const before = segment.at - (previous === undefined ? 0 : previous.at + previous.seconds);
  const after = (next?.at ?? seconds) - segment.at - segment.seconds;
  return { before: Math.min(1, before), after: Math.min(1, after) };
}
