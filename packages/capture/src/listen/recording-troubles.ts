import type { SweepSegment } from '../signal/signal-plan.ts';
import { arrivals } from './arrivals.ts';
import { ownSweep, toneOf, type LaidChannel, type Reading, type TakeOf } from './channel-response.ts';
import { clipping } from './clipping.ts';
import { droppedBuffers, type Anchor } from './dropped.ts';
import { powerOf } from './gated-reader.ts';
import { jumpBetween } from './jump.ts';
import { levelControl, steadyBlocks, type LevelReading } from './level-control.ts';
import { noiseGate } from './noise-gate.ts';
import type { Trouble } from './problem.ts';
import { isThere, recordedAt, stretchOf } from './stretches.ts';
import type { Pair, SweepTake } from './sweep-take.ts';

/** What is wrong with one channel of a recording; `readings` is what its sweep said. */
export function channelTroubles(
  channel: LaidChannel,
  takeOf: TakeOf,
  expected: (hz: number) => Pair,
  readings: readonly Reading[],
): readonly Trouble[] {
  const { laid, name, samples } = channel;
  const { wav } = laid;
  const clipped = clipping(samples, wav.rate, wav.format === 'pcm' ? wav.bits : 24, name);
  const sweep = ownSweep(channel);
  const dropped = sweep === null ? [] : droppedIn(channel, sweep, takeOf, expected);
  return [
    ...clipped,
    ...dropped,
    // A dropped buffer takes a piece out of what should be steady; a clipped tone is not at its level.
    ...(clipped.length + dropped.length > 0
      ? []
      : levelControl(name, steadyLevels(channel), alikeLevels(channel, expected, readings))),
    ...(sweep === null ? [] : gateIn(channel, takeOf(channel, sweep))),
  ];
}

function droppedIn(
  channel: LaidChannel,
  sweep: SweepSegment,
  takeOf: TakeOf,
  expected: (hz: number) => Pair,
): readonly Trouble[] {
  const { laid, samples } = channel;
  const { plan, wav, timeline } = laid;
  const take = takeOf(channel, sweep);
  const [start, end] = [plan.segments[0]!, plan.segments.at(-1)!];
  const along = arrivals(take, expected).map(({ moment, late, within }): Anchor => ({
    at: sweep.at - take.begins + moment,
    late,
    within,
  }));
  // Both markers were laid where they should be.
  const marker = (at: number): Anchor => ({ at, late: 0, within: 0 });
  const anchors = [
    ...(timeline.ppm === null ? [] : [marker(start.at)]),
    ...along,
    ...(timeline.ppm === null ? [] : [marker(end.at)]),
  ];
  return droppedBuffers(laid, anchors, (from, to) => {
    const at = jumpBetween(samples, from * wav.rate, to * wav.rate);
    return at === null ? null : at / wav.rate;
  });
}

/** Every level tone in blocks. */
function steadyLevels({ laid, name, samples }: LaidChannel): readonly (readonly LevelReading[])[] {
  return laid.plan.segments
    .filter(
      (segment) =>
        segment.kind === 'level' && (segment.feeds === name || segment.feeds === 'both') && isThere(laid, segment),
    )
    .map(({ at, seconds }) =>
      steadyBlocks(stretchOf(laid, samples, at + 0.1, seconds - 0.2), laid.plan.rate, recordedAt(laid, at + 0.1)),
    );
}

/** Both markers; each level tone and the sweep as it passes that frequency. */
function alikeLevels(
  channel: LaidChannel,
  expected: (hz: number) => Pair,
  readings: readonly Reading[],
): readonly (readonly [LevelReading, LevelReading])[] {
  const { laid, name, samples } = channel;
  const { plan } = laid;
  const sweep = ownSweep(channel);
  const [first, last] = [plan.segments[0]!, plan.segments.at(-1)!].map((marker) => {
    const { at, seconds } = marker;
    const [whole] = steadyBlocks(stretchOf(laid, samples, at, seconds), plan.rate, recordedAt(laid, at));
    return isThere(laid, marker) && whole !== undefined
      ? { ...whole, db: levelOf(stretchOf(laid, samples, at, seconds)) }
      : null;
  });
  const tones = plan.segments.flatMap((segment): (readonly [LevelReading, LevelReading])[] => {
    if (segment.kind !== 'level' || sweep === null || !isThere(laid, segment)) return [];
    const reading = readings.find(({ hz }) => hz === segment.hz);
    if (reading === undefined || (segment.feeds !== 'both' && segment.feeds !== name)) return [];
    const tone = toneOf(channel, segment, expected);
    const passed =
      sweep.at + sweep.seconds * (Math.log(segment.hz / sweep.fromHz) / Math.log(sweep.toHz / sweep.fromHz));
    return [[spot(channel, segment.at, tone.ratio), spot(channel, passed, reading.ratio)]];
  });
  return first && last ? [[first, last], ...tones] : tones;
}

function spot({ laid }: LaidChannel, at: number, ratio: Pair): LevelReading {
  const moment = recordedAt(laid, at);
  return { fromS: moment, toS: moment, db: 10 * Math.log10(powerOf(ratio)) };
}

function levelOf(samples: Float64Array): number {
  const mean = samples.reduce((sum, x) => sum + x, 0) / samples.length;
  return 10 * Math.log10(samples.reduce((sum, x) => sum + (x - mean) ** 2, 0) / samples.length);
}

function gateIn({ laid, name, samples }: LaidChannel, take: SweepTake): readonly Trouble[] {
  const silence = laid.plan.segments.find((segment) => segment.kind === 'silence' && isThere(laid, segment));
  if (silence === undefined) return [];
  const { at, seconds } = silence;
  const half = stretchOf(laid, samples, at + seconds / 2, seconds / 2);
  const found = noiseGate(take, half, {
    bits: laid.wav.format === 'pcm' ? laid.wav.bits : 24,
    channel: name,
    fromS: recordedAt(laid, at),
    toS: recordedAt(laid, at + seconds),
  });
  return found === null ? [] : [found];
}
