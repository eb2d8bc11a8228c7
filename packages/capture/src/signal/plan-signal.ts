import { nominalFrequencies } from '@curvewright/curves';
import { shapingDb } from './shaping.ts';
import type { Feed, Segment, Shaping, SignalPlan } from './signal-plan.ts';

/** What is played between the markers: a 1 kHz tone, a sweep on both channels or on one alone, tones in steps, nothing. */
export const signalSteps = ['level', 'sweep', 'left', 'right', 'tones', 'silence'] as const;
export type SignalStep = (typeof signalSteps)[number];

export interface SignalWishes {
  /** Frames a second. */
  readonly rate: number;
  readonly steps: readonly SignalStep[];
  readonly shaping: Shaping;
  /** Peak at 1 kHz, dB re full scale. */
  readonly levelDbfs: number;
  /** Of each sweep. */
  readonly sweepSeconds: number;
  readonly fromHz: number;
  readonly toHz: number;
  /** Of the silence. */
  readonly silenceSeconds: number;
}

const marker = { lowHz: 1000, highHz: 4000, seconds: 0.5 };
/** Room before and after it all, for the delay of a player, and between stretches, for what still rings. */
const leadSeconds = 1;
const gapSeconds = 1;
const levelSeconds = 3;
/** Long enough for the waiting time of a tone's start at 20 Hz to be over. */
const toneSeconds = 1.5;
const toneGapSeconds = 0.1;
/** A sweep is faded over these fractions of an octave at its ends. */
const fadeIn = 1 / 3;
const fadeOut = 1 / 24;

/** The highest frequency of a sweep at a rate: 40 kHz, or 0.45 of the rate, where converters still pass it. */
export function highestSweepHz(rate: number): number {
  return Math.min(40_000, 0.45 * rate);
}

/**
 * Puts the steps one after the other between two markers. Throws a RangeError unless 0 < fromHz < toHz < rate/2, the times are positive, and the rate
 * carries the markers.
 */
export function planSignal(wishes: SignalWishes): SignalPlan {
  const { rate, steps, shaping, levelDbfs, fromHz, toHz } = wishes;
  if (!(fromHz > 0 && toHz > fromHz && toHz < rate / 2 && rate >= 4 * marker.highHz)) {
    throw new RangeError(`no sweep from ${fromHz} to ${toHz} Hz at ${rate} frames a second`);
  }
  if (!(wishes.sweepSeconds > 0 && wishes.silenceSeconds > 0)) throw new RangeError('a stretch takes some time');
  const whole = (seconds: number): number => Math.round(seconds * rate) / rate;
  const segments: Segment[] = [];
  let at = whole(leadSeconds);
  const add = (segment: Segment): void => {
    segments.push(segment);
    at = whole(segment.at + segment.seconds + gapSeconds);
  };
  const placed = (seconds: number, feeds: Feed): { at: number; seconds: number; feeds: Feed } => ({
    at,
    seconds: whole(seconds),
    feeds,
  });
  const { lowHz, highHz } = marker;
  add({ kind: 'marker', role: 'start', ...placed(marker.seconds, 'both'), fromHz: lowHz, toHz: highHz });
  for (const step of steps) {
    switch (step) {
      case 'level':
        add({ kind: 'level', ...placed(levelSeconds, 'both'), hz: 1000 });
        break;
      case 'tones':
        add(tones(wishes, at, whole));
        break;
      case 'silence':
        add({ kind: 'silence', ...placed(wishes.silenceSeconds, 'both') });
        break;
      default: {
        const stretch = placed(wishes.sweepSeconds, step === 'sweep' ? 'both' : step);
        const octave = stretch.seconds / Math.log2(toHz / fromHz);
        const fades = { fadeInSeconds: whole(fadeIn * octave), fadeOutSeconds: whole(fadeOut * octave) };
        add({ kind: 'sweep', ...stretch, fromHz, toHz, ...fades });
      }
    }
  }
  add({ kind: 'marker', role: 'end', ...placed(marker.seconds, 'both'), fromHz: highHz, toHz: lowHz });
  const peakDbfs = Math.max(...segments.map((segment) => levelDbfs + peakOverLevelDb(segment, shaping)));
  return { signal: 1, rate, seconds: at, shaping, levelDbfs, peakDbfs, segments };
}

/** Third octaves from 20 Hz as far as the sweep goes and the ear hears. */
function tones({ toHz }: SignalWishes, at: number, whole: (seconds: number) => number): Segment {
  const step = whole(toneSeconds + toneGapSeconds);
  const listed = nominalFrequencies(20, Math.min(toHz, 20_000)).map((hz, n) => ({
    hz,
    at: whole(at + n * step),
    seconds: whole(toneSeconds),
  }));
  return { kind: 'tones', at, seconds: whole(listed.length * step), feeds: 'both', tones: listed };
}

/** How far a stretch's peak lies above the level at 1 kHz. The cut of a record rises with frequency all the way. */
function peakOverLevelDb(segment: Segment, shaping: Shaping): number {
  switch (segment.kind) {
    case 'sweep':
      return shapingDb(shaping, segment.toHz);
    case 'tones':
      return Math.max(...segment.tones.map(({ hz }) => shapingDb(shaping, hz)));
    default:
      return segment.kind === 'silence' ? -Infinity : 0;
  }
}
