import { shapingDb } from './shaping.ts';
import type { MarkerSegment, Segment, SignalPlan, SweepSegment } from './signal-plan.ts';

/** Steady tones start and end over this time, so that they do not click. */
const toneFadeSeconds = 0.02;
/** Share of a marker that is fade, half of it at each end. */
const markerFade = 0.2;

type Settings = Pick<SignalPlan, 'rate' | 'shaping' | 'levelDbfs'>;

/** The samples of a plan, left and right, full scale ±1. */
export function renderSignal(plan: SignalPlan): [Float64Array, Float64Array] {
  const frames = Math.round(plan.seconds * plan.rate);
  const [left, right] = [new Float64Array(frames), new Float64Array(frames)];
  for (const segment of plan.segments) {
    const samples = renderSegment(segment, plan);
    const at = Math.round(segment.at * plan.rate);
    if (segment.feeds !== 'right') left.set(samples, at);
    if (segment.feeds !== 'left') right.set(samples, at);
  }
  return [left, right];
}

/** The samples of one stretch, as every channel that it feeds plays them. */
export function renderSegment(segment: Segment, settings: Settings): Float64Array {
  const { rate, shaping, levelDbfs } = settings;
  const frames = Math.round(segment.seconds * rate);
  const level = amplitude(levelDbfs);
  switch (segment.kind) {
    case 'silence':
      return new Float64Array(frames);
    case 'marker':
      return chirp(segment, frames, rate, level);
    case 'sweep':
      return sweep(segment, frames, settings);
    case 'level':
      return tone(segment.hz, frames, rate, level * amplitude(shapingDb(shaping, segment.hz)));
    case 'tones': {
      const samples = new Float64Array(frames);
      for (const { hz, at, seconds } of segment.tones) {
        const one = tone(hz, Math.round(seconds * rate), rate, level * amplitude(shapingDb(shaping, hz)));
        samples.set(one, Math.round((at - segment.at) * rate));
      }
      return samples;
    }
  }
}

/** Frequency of a sweep in Hz at a time in seconds from its start: the slope of its phase over 2π. */
export function sweepHz({ fromHz, toHz, seconds }: SweepSegment, t: number): number {
  return fromHz * (toHz / fromHz) ** (t / seconds);
}

function sweep(segment: SweepSegment, frames: number, { rate, shaping, levelDbfs }: Settings): Float64Array {
  const { fromHz, toHz, seconds, fadeInSeconds, fadeOutSeconds } = segment;
  const R = Math.log(toHz / fromHz);
  const turns = (2 * Math.PI * fromHz * seconds) / R;
  const fade = fades(frames, fadeInSeconds * rate, fadeOutSeconds * rate);
  const level = amplitude(levelDbfs);
  // A sweep is slow enough to be a steady sine at every instant: it is shaped at the frequency that is played just then.
  const shape = (t: number): number => (shaping === 'flat' ? 1 : amplitude(shapingDb(shaping, sweepHz(segment, t))));
  return Float64Array.from({ length: frames }, (_, n) => {
    const t = n / rate;
    return level * shape(t) * fade(n) * Math.sin(turns * Math.expm1((t * R) / seconds));
  });
}

/** Linear in frequency, so that its energy is even between both ends. */
function chirp({ fromHz, toHz, seconds }: MarkerSegment, frames: number, rate: number, level: number): Float64Array {
  const slope = (toHz - fromHz) / seconds;
  const fade = fades(frames, (markerFade / 2) * frames, (markerFade / 2) * frames);
  return Float64Array.from({ length: frames }, (_, n) => {
    const t = n / rate;
    return level * fade(n) * Math.sin(2 * Math.PI * (fromHz + (slope * t) / 2) * t);
  });
}

function tone(hz: number, frames: number, rate: number, level: number): Float64Array {
  const fade = fades(frames, toneFadeSeconds * rate, toneFadeSeconds * rate);
  return Float64Array.from({ length: frames }, (_, n) => level * fade(n) * Math.sin((2 * Math.PI * hz * n) / rate));
}

/** Half cosines over the first and last frames, 1 between them. */
function fades(frames: number, first: number, last: number): (n: number) => number {
  return (n) => Math.min(raised(n / first), raised((frames - 1 - n) / last));
}

function raised(share: number): number {
  return share < 1 ? (1 - Math.cos(Math.PI * share)) / 2 : 1;
}

function amplitude(db: number): number {
  return 10 ** (db / 20);
}
