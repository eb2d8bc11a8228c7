import { shapingDb } from '../signal/shaping.ts';
import type { SignalPlan, SweepSegment, TonesSegment } from '../signal/signal-plan.ts';
import { harmonicOrders, type Harmonic } from './harmonic.ts';
import { isThere, stretchOf, type Laid } from './stretches.ts';
import { sweepResponse } from './sweep-response.ts';
import type { Pair, SweepTake } from './sweep-take.ts';
import { toneReading } from './tone-response.ts';

/** A channel's name as the plan has it. */
export type ChannelName = 'left' | 'right';

/** What a recording says of one channel at one frequency, against what is expected at a played level of 1 at 1 kHz. */
export interface Reading {
  readonly hz: number;
  readonly ratio: Pair;
  /** Steady tones tell no phase. */
  readonly phased: boolean;
  readonly snrDb: number | null;
  readonly harmonics: readonly (Harmonic | null)[];
}

/** One channel of a laid recording. */
export interface LaidChannel {
  readonly laid: Laid;
  readonly name: ChannelName;
  readonly samples: Float64Array;
}

/** Cuts a sweep out of a channel; asked twice, it answers the same. */
export type TakeOf = (channel: LaidChannel, segment: SweepSegment) => SweepTake;

/** s at either end of a tone in which it starts, rings and ends. */
const [toneLead, toneTail] = [0.35, 0.1];

/** The sweep that feeds a channel: alone where there is one, that nothing comes across from the other. */
export function ownSweep({ laid, name }: Pick<LaidChannel, 'laid' | 'name'>): SweepSegment | null {
  const sweeps = sweepsOf(laid.plan).filter((segment) => isThere(laid, segment));
  return sweeps.find(({ feeds }) => feeds === name) ?? sweeps.find(({ feeds }) => feeds === 'both') ?? null;
}

export function sweepsOf({ segments }: SignalPlan): readonly SweepSegment[] {
  return segments.filter((segment): segment is SweepSegment => segment.kind === 'sweep');
}

/** By its sweep, or where there is none by its tones; empty where there is neither. */
export function channelReadings(
  channel: LaidChannel,
  takeOf: TakeOf,
  expected: (hz: number) => Pair,
  frequencies: readonly number[],
): readonly Reading[] {
  const sweep = ownSweep(channel);
  if (sweep !== null) {
    const take = takeOf(channel, sweep);
    return sweepResponse(take, expected, frequencies).map((point) => ({ ...point, phased: true }));
  }
  const { laid, name } = channel;
  return laid.plan.segments
    .filter((segment): segment is TonesSegment => segment.kind === 'tones' && isThere(laid, segment))
    .filter(({ feeds }) => feeds === name || feeds === 'both')
    .flatMap(({ tones }) => tones)
    .filter(({ hz }) => hz < 0.45 * laid.wav.rate)
    .map((tone) => toneOf(channel, tone, expected));
}

/** A steady tone of the plan against what is expected. */
export function toneOf(
  { laid, samples }: LaidChannel,
  { hz, at, seconds }: { readonly hz: number; readonly at: number; readonly seconds: number },
  expected: (hz: number) => Pair,
): Reading {
  const { rate, shaping } = laid.plan;
  // Whole periods, so that neither the line nor what lies beside it depends on where the stretch is cut.
  const length = Math.floor((seconds - toneLead - toneTail) * hz) / hz;
  const stretch = stretchOf(laid, samples, at + toneLead, length);
  const { level, snrDb, harmonics } = toneReading(
    stretch,
    rate,
    hz,
    harmonicOrders,
    Math.min(20_000, 0.45 * laid.wav.rate),
  );
  const [a, b] = expected(hz);
  const scale = 1 / (Math.hypot(a, b) * 10 ** (shapingDb(shaping, hz) / 20));
  return { hz, ratio: [Math.hypot(...level) * scale, 0], phased: false, snrDb, harmonics };
}
