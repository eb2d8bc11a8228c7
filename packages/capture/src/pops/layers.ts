import { findClicks } from './click-finder.ts';
import { shapeFinder, shapeRoom, type Shape } from './shape-finder.ts';
import { stretches, type Stretch } from './stretches.ts';
import { whitener } from './whitener.ts';

/** What stands out of the noise at one of the rates that a recording is looked at. */
export interface Candidate {
  /** s from the start: where it begins, and where it was last seen. */
  readonly at: number;
  readonly until: number;
  readonly shape: Shape;
  /** Share of full scale, with its sign. */
  readonly height: number;
  /** In standard deviations; of a run of samples, Infinity. */
  readonly strength: number;
}

/** One rate at which a recording is looked at. */
export interface Layer {
  readonly push: (samples: Float32Array | Float64Array) => void;
  readonly finish: () => void;
  readonly candidates: readonly Candidate[];
  /** Of each stretch: the height, as a share of full scale, that has a strength of 1. */
  readonly unitHeights: Readonly<Record<Shape, readonly number[]>>;
}

export interface LayerOptions {
  /** Of the recording, in Hz. */
  readonly rate: number;
  /** So many samples are taken as one, their mean. */
  readonly factor: number;
  /** Standard deviations above which something stands out. */
  readonly threshold: number;
  /** Of one step of the recording's samples, as a share of full scale; 0 of floating point. */
  readonly step: number;
}

/** Samples of a stretch: the scale of its noise is then known to 1 % (1.17/√n; the median of magnitudes, Gaussian noise). */
const hop = 16_384;

/** Seconds within which what stands out is one event, beside the predictor's own memory. */
export const quietTime: number = 0.001;

/** Clicks, sample by sample. Order 32: enough for an equaliser's slopes and a recorder's filters; more did not lower the error of either. */
export function clickLayer({ rate, factor, threshold, step }: LayerOptions): Layer {
  const order = 32;
  const slow = rate / factor;
  const quiet = Math.max(order, Math.ceil(quietTime * slow));
  const cut = { hop, lead: order, tail: 2 * quiet };
  const candidates: Candidate[] = [];
  const unitHeights = { click: [] as number[], step: [] as number[] };
  const whiten = whitener({
    ...{ order, longest: hop + cut.lead + cut.tail, fitted: hop / 4 },
    ...{ longestEvent: quiet, leastScale: leastScale(step, factor) },
  });
  const { push, finish } = stretches(cut, ({ samples, from, to, index }) => {
    const white = whiten(samples);
    for (const { at, until, height } of findClicks(white, Math.max(from, order), to, threshold * white.scale, quiet)) {
      const seconds = (n: number): number => (index + n) / slow;
      candidates.push({ at: seconds(at), until: seconds(until), shape: 'click', height, strength: Infinity });
    }
    unitHeights.click.push(white.scale);
  });
  return { push: averaging(factor, push), finish, candidates, unitHeights };
}

/** Slow clicks and steps. Order 64 of some 1500 Hz: 43 ms, two periods of the mains, whose lines are predicted away. */
export function shapeLayer({ rate, factor, threshold, step }: LayerOptions): Layer {
  const order = 64;
  const slow = rate / factor;
  const room = shapeRoom(slow);
  const cut = { hop, lead: order + room.lead, tail: room.tail };
  const longest = hop + cut.lead + cut.tail;
  const candidates: Candidate[] = [];
  const unitHeights = { click: [] as number[], step: [] as number[] };
  const whiten = whitener({
    ...{ order, longest, fitted: longest },
    ...{ longestEvent: room.tail, leastScale: leastScale(step, factor) },
  });
  const find = shapeFinder(slow, longest);
  const look = ({ samples, from, to, index }: Stretch): void => {
    // So short a recording has no slow noise to hold anything against.
    if (samples.length < 4 * order) return;
    const white = whiten(samples);
    const { found, units } = find(white, Math.max(from, order), to, threshold);
    for (const { at, ...event } of found) {
      const seconds = (index + at) / slow;
      candidates.push({ at: seconds, until: seconds, ...event });
    }
    unitHeights.click.push(units.click);
    unitHeights.step.push(units.step);
  };
  const { push, finish } = stretches(cut, look);
  return { push: averaging(factor, push), finish, candidates, unitHeights };
}

/** What rounding alone leaves in the mean of `factor` samples. */
function leastScale(step: number, factor: number): number {
  return step / Math.sqrt(12 * factor);
}

/** Hands on the mean of every `factor` samples. */
function averaging(factor: number, next: (means: Float32Array | Float64Array) => void): Layer['push'] {
  if (factor === 1) return next;
  let kept = { sum: 0, count: 0 };
  return (samples) => {
    const means = new Float64Array(Math.floor((kept.count + samples.length) / factor));
    // In variables of its own, the loop makes no litter.
    let [{ sum, count }, filled] = [kept, 0];
    for (let n = 0; n < samples.length; n++) {
      sum += samples[n]!;
      if (++count < factor) continue;
      means[filled++] = sum / factor;
      sum = 0;
      count = 0;
    }
    kept = { sum, count };
    next(means);
  };
}
