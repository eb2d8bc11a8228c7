import { renderSegment } from '../signal/render-signal.ts';
import type { Shaping, SignalPlan, SweepSegment } from '../signal/signal-plan.ts';
import type { LaidChannel, TakeOf } from './channel-response.ts';
import { deconvolver } from './gates.ts';
import { quietAround, stretchOf, type Laid } from './stretches.ts';
import type { SweepTake } from './sweep-take.ts';

/** Cuts a sweep out of a channel of a recording, with the quiet around it and DC off, and divides it by the sweep; at a played level of 1 at 1 kHz. */
type SweepTaker = (laid: Laid, samples: Float64Array) => SweepTake;

/** Share of the quiet on either side over which a take is faded, so that what is steady in it (hum) has no edge. */
const fadeShare = 0.4;

/** For all channels and recordings of one sweep; `highestHz` is where the slowest recording ends. */
function sweepTaker(plan: SignalPlan, segment: SweepSegment, highestHz: number): SweepTaker {
  const { rate, shaping } = plan;
  const { before, after } = quietAround(plan, segment);
  const [lead, tail] = [Math.round(before * rate), Math.round(after * rate)];
  const lasts = before + segment.seconds + after;
  const played = (shape: Shaping): Float64Array => {
    const out = new Float64Array(Math.round(lasts * rate));
    out.set(renderSegment(segment, { rate, shaping: shape, levelDbfs: 0 }), lead);
    return out;
  };
  const { seconds, fromHz, toHz } = segment;
  const top = Math.min(toHz, highestHz);
  const divide = deconvolver(played('flat'), rate, [fromHz, top]);
  const shape = shaping === 'flat' ? null : divide(played(shaping));
  return (laid, samples) => {
    const recorded = stretchOf(laid, samples, segment.at - before, lasts);
    const dc = meanOf(recorded, lead, recorded.length - tail);
    for (let n = 0; n < recorded.length; n++) recorded[n] = recorded[n]! - dc;
    fade(recorded, fadeShare * lead, fadeShare * tail);
    return { rate, heard: divide(recorded), shape, begins: before, lasts, seconds, fromHz, toHz, highestHz: top };
  };
}

/** Half cosines over the first and the last samples, in place. */
function fade(samples: Float64Array, first: number, last: number): void {
  for (let n = 0; n < first; n++) samples[n] = samples[n]! * (0.5 - 0.5 * Math.cos((Math.PI * n) / first));
  for (let n = 0; n < last; n++) {
    const at = samples.length - 1 - n;
    samples[at] = samples[at]! * (0.5 - 0.5 * Math.cos((Math.PI * n) / last));
  }
}

/** Of the samples before one and from another on. */
function meanOf(samples: Float64Array, before: number, from: number): number {
  let sum = 0;
  for (let n = 0; n < before; n++) sum += samples[n]!;
  for (let n = from; n < samples.length; n++) sum += samples[n]!;
  return sum / Math.max(1, before + samples.length - from);
}

/** Every sweep of a plan, cut and divided once for each channel. */
export function rememberedTakes(plan: SignalPlan, highestHz: number): TakeOf {
  const takers = new Map<SweepSegment, SweepTaker>();
  const takes = new Map<LaidChannel, Map<SweepSegment, SweepTake>>();
  return (channel, segment) => {
    const known = takes.get(channel)?.get(segment);
    if (known !== undefined) return known;
    const taker = takers.get(segment) ?? sweepTaker(plan, segment, highestHz);
    takers.set(segment, taker);
    const take = taker(channel.laid, channel.samples);
    takes.set(channel, (takes.get(channel) ?? new Map<SweepSegment, SweepTake>()).set(segment, take));
    return take;
  };
}
