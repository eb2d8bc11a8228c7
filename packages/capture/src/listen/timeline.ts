import { renderSegment } from '../signal/render-signal.ts';
import type { MarkerSegment, SignalPlan } from '../signal/signal-plan.ts';
import type { Wav } from '../wav/wav.ts';
import { findMarker, type MarkerHit } from './find-marker.ts';
import { onPlayerClock } from './player-clock.ts';
import type { Trouble } from './problem.ts';

/** How a plan lies in a recording: its frame n at sample `from + n·step`. */
export interface Timeline {
  readonly from: number;
  readonly step: number;
  /** How much faster the recorder's clock runs than the player's, parts per million; null where one marker is missing, and they are taken as alike. */
  readonly ppm: number | null;
  /** s from the start of the recording to that of the plan, on the recorder's clock. */
  readonly offsetS: number;
}

export interface Alignment {
  /** Null where no marker was found. */
  readonly timeline: Timeline | null;
  readonly troubles: readonly Trouble[];
}

/** Rates that one device may take for another. */
const usualRates = [16_000, 22_050, 32_000, 44_100, 48_000, 88_200, 96_000, 192_000];

/** The end marker is looked for within this share of the plan's length of its place: wider than any clock is off, narrower than the plan. */
const endSlack = 0.02;

/** Finds the markers of a plan in a recording: first in its loudest channel. */
export function alignment(plan: SignalPlan, wav: Wav): Alignment {
  const [start, end] = markersOf(plan);
  const nominal = wav.rate / plan.rate;
  for (const channel of loudestFirst(wav)) {
    const first = findMarker(channel, markerAt(start, plan, nominal));
    const guess = first === null ? null : first.sample + (end.at - start.at) * wav.rate;
    const slack = endSlack * plan.seconds * wav.rate;
    const falling = markerAt(end, plan, nominal);
    const last =
      guess === null ? findMarker(channel, falling) : findMarker(channel, falling, guess - slack, guess + slack);
    if (first !== null && last !== null) return aligned(...sharpened(channel, first, last, plan, wav), plan, wav);
    if (first !== null || last !== null) return aligned(first, last, plan, wav);
  }
  return { timeline: null, troubles: [atOtherSpeed(plan, wav) ?? noMarker] };
}

/**
 * Both markers once more, as the recorder's clock makes them: a chirp that is a little too fast lies a little early or late, a rising one the other way
 * than a falling one, which would be taken for 2 ppm in half a minute at 80 ppm.
 */
function sharpened(
  channel: Float64Array,
  first: MarkerHit,
  last: MarkerHit,
  plan: SignalPlan,
  wav: Wav,
): readonly [MarkerHit, MarkerHit] {
  const [start, end] = markersOf(plan);
  const step = (last.sample - first.sample) / ((end.at - start.at) * plan.rate);
  const around = 0.02 * wav.rate;
  const again = (segment: MarkerSegment, hit: MarkerHit): MarkerHit =>
    findMarker(channel, markerAt(segment, plan, step), hit.sample - around, hit.sample + around) ?? hit;
  return [again(start, first), again(end, last)];
}

function markersOf(plan: SignalPlan): readonly [MarkerSegment, MarkerSegment] {
  const [start, end] = [plan.segments[0], plan.segments.at(-1)];
  if (start?.kind !== 'marker' || end?.kind !== 'marker') throw new RangeError('a plan starts and ends with a marker');
  return [start, end];
}

/** One of both at least. */
function aligned(first: MarkerHit | null, last: MarkerHit | null, plan: SignalPlan, wav: Wav): Alignment {
  const [start, end] = markersOf(plan);
  const nominal = wav.rate / plan.rate;
  const step =
    first !== null && last !== null ? (last.sample - first.sample) / ((end.at - start.at) * plan.rate) : nominal;
  const from =
    first === null ? (last?.sample ?? NaN) - end.at * plan.rate * step : first.sample - start.at * plan.rate * step;
  const ppm = first !== null && last !== null ? (step / nominal - 1) * 1e6 : null;
  const troubles: Trouble[] = [];
  if (first === null) troubles.push({ ...noMarker, message: missing('start', 'start the recorder before the player') });
  if (last === null) {
    const message = missing('end', 'let the recorder run until the player is done');
    troubles.push({ ...noMarker, code: 'no-end-marker', message });
  }
  if (wav.rate !== plan.rate) {
    troubles.push({
      ...noMarker,
      code: 'other-rate',
      message: `recorded at ${wav.rate} frames a second, played at ${plan.rate}; read at the player's, up to ${Math.round(0.45 * Math.min(wav.rate, plan.rate))} Hz`,
    });
  }
  return { timeline: { from, step, ppm, offsetS: from / wav.rate }, troubles };
}

const noMarker: Trouble = {
  code: 'no-start-marker',
  channel: null,
  fromS: null,
  toS: null,
  message:
    'no marker of this signal is in the recording, so nothing is measured; check that the signal file is the one that was played, and the level',
};

function missing(which: string, todo: string): string {
  return `the ${which} marker is missing: the clocks are taken as alike, and phase and treble are less certain; ${todo}`;
}

/** A recording whose file says another rate than it was taken at, or a file that was played at another than its own. */
function atOtherSpeed(plan: SignalPlan, wav: Wav): Trouble | null {
  const [start] = markersOf(plan);
  const [channel] = loudestFirst(wav);
  if (channel === undefined) return null;
  const speeds = usualRates
    .map((rate) => plan.rate / rate)
    .filter((speed) => speed !== 1 && speed >= 0.25 && speed <= 4);
  for (const speed of speeds) {
    const hit = findMarker(channel, markerAt(start, plan, (wav.rate / plan.rate) * speed));
    if (hit === null) continue;
    return {
      code: 'wrong-rate',
      channel: null,
      fromS: hit.sample / wav.rate,
      toS: null,
      message:
        `the signal lasts ${speed.toFixed(3)} times as long as it should: player or recorder took ${plan.rate} frames a second for ` +
        `${Math.round(plan.rate / speed)}, or the other way round; set both to the rate of the file`,
    };
  }
  return null;
}

/** A marker as a recorder takes it that makes `step` samples of one frame of the plan. */
function markerAt(segment: MarkerSegment, plan: SignalPlan, step: number): Float64Array {
  const played = renderSegment(segment, plan);
  return step === 1
    ? played
    : onPlayerClock(played, { from: 0, step: 1 / step, length: Math.round(played.length * step) });
}

function loudestFirst({ channels }: Wav): readonly Float64Array[] {
  const powers = new Map(channels.map((samples) => [samples, samples.reduce((sum, x) => sum + x * x, 0)]));
  return channels.toSorted((a, b) => (powers.get(b) ?? 0) - (powers.get(a) ?? 0));
}
