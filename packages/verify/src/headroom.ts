import type { Circuit } from '@curvewright/board';
import { highestHarmonic, steadySearch, type SteadySearch, type SteadyState } from '@curvewright/network';
import type { Stage } from './stage.ts';

/** How far a stage can be driven, channel by channel, each driven alone by a sine. */
export interface HeadroomAnswer {
  readonly channels: readonly ChannelHeadroom[];
}

export interface ChannelHeadroom {
  readonly name: string;
  readonly overload: readonly Overload[];
  /** Distortion at levels in steps of 1, 2, 5 up to the overload. */
  readonly points: readonly DistortionPoint[];
}

export interface DistortionPoint {
  readonly hz: number;
  /** mV rms at the input. */
  readonly inputMv: number;
  /** Harmonics 2 to 10 over the fundamental at the output. */
  readonly thdPercent: number;
}

/** The input at which the output has 1 % THD or, where that comes first, 1 dB of compression. */
export interface Overload {
  readonly hz: number;
  /** mV rms; null where the stage takes all of `triedMv` without it. */
  readonly inputMv: number | null;
  /** dB above 5 mV. */
  readonly above5mvDb: number | null;
  readonly by: 'distortion' | 'compression' | null;
  /** The part that brings most of that distortion or compression, and its share of it. */
  readonly limitedBy: string | null;
  readonly share: number | null;
  /** V rms of the fundamental at the output there. */
  readonly outputV: number | null;
  /** The highest input (mV rms) at which a steady state was sought on the way up and found. */
  readonly triedMv: number;
}

/** Hz at which headroom is told. */
export const headroomFrequencies: readonly number[] = [20, 100, 1000, 10_000, 20_000];

/** V rms of a pickup's programme that overload is held against. */
const programme = 5e-3;

/** THD, and dB of gain lost, that count as overload. */
const overloadThd = 0.01;
const overloadCompression = 1;

/** Factors of level from one state to the next. */
const longestStep = 1.3;
const shortestStep = 1.003;

/** An overload level is found to this fraction (0.01 dB), or to this fraction of the distortion that makes it one, which grows faster. */
const levelTolerance = 1e-3;
const excessTolerance = 5e-3;

export function headroom(stage: Stage, frequencies: readonly number[] = headroomFrequencies): HeadroomAnswer {
  const known = new Map<string, { readonly channel: number; readonly answer: ChannelHeadroom }>();
  return {
    channels: stage.circuit.channels.map(({ name }, channel) => {
      const content = contentOf(stage.circuit, channel);
      const twin = known.get(content);
      if (twin !== undefined) return { ...renamed(stage.circuit, twin.answer, twin.channel, channel), name };
      const climbs = frequencies.map((hz) => climb(searchOf(stage, channel, hz)));
      const answer = {
        name,
        overload: climbs.map(({ overload }) => overload),
        points: climbs.flatMap(({ points }) => points),
      };
      known.set(content, { channel, answer });
      return answer;
    }),
  };
}

/** Everything of a channel but its name and its parts' designators: channels of equal content are solved once. */
function contentOf({ channels, parts }: Circuit, index: number): string {
  const { name, input, output, load } = channels[index] ?? {};
  const own = parts.filter(({ channel }) => channel === name);
  const bare = (key: string, value: unknown): unknown => {
    if (['ref', 'position', 'place', 'channel', 'name'].includes(key)) return undefined;
    return typeof value === 'string' ? value.replace(`@${name}`, '@') : value;
  };
  return JSON.stringify({ input, output, load, own }, bare);
}

/** A channel's answer with the designators of its twin, part by part. */
function renamed({ channels, parts }: Circuit, answer: ChannelHeadroom, from: number, to: number): ChannelHeadroom {
  const refsOf = (index: number): readonly string[] =>
    parts.filter(({ channel }) => channel === channels[index]?.name).map(({ ref }) => ref);
  const [before, after] = [refsOf(from), refsOf(to)];
  const overload = answer.overload.map((each) => {
    const place = before.indexOf(each.limitedBy ?? '');
    return { ...each, limitedBy: after[place] ?? each.limitedBy };
  });
  return { ...answer, overload };
}

/** Overload of one channel at one frequency. */
export function overloadAt(stage: Stage, channel: number, hz: number): Overload {
  return climb(searchOf(stage, channel, hz)).overload;
}

/** THD (a fraction) of one channel at one frequency and input (V rms); null where no steady state is found on the way there. */
export function thdAt(stage: Stage, channel: number, hz: number, inputVolts: number): number | null {
  const levels = [...toldLevels.filter((level) => level < inputVolts), inputVolts];
  const state = [...risingStates(searchOf(stage, channel, hz), levels)].at(-1);
  return state?.inputVolts === inputVolts ? thd(state) : null;
}

function searchOf({ network, point, small }: Stage, channel: number, hz: number): SteadySearch {
  return steadySearch(network, point, small, channel, hz);
}

/** The levels told of, V rms: 1, 2, 5 in every decade. */
const toldLevels: readonly number[] = [1e-3, 1e-2, 1e-1, 1].flatMap((decade) => [decade, 2 * decade, 5 * decade]);

/**
 * The steady states at growing levels, through every one of `levels`, until no nearer step settles. Each search starts from the state before
 * it; where a stage begins to clip the steps shrink.
 */
function* risingStates(search: SteadySearch, levels: readonly number[]): Generator<SteadyState> {
  let last: SteadyState | null = null;
  let factor = longestStep;
  for (const goal of levels) {
    while (last === null || last.inputVolts < goal) {
      const next = last === null ? goal : Math.min(goal, last.inputVolts * factor);
      const state: SteadyState | null = search.at(next, last);
      if (state !== null) {
        yield state;
        last = state;
        factor = Math.min(factor ** 1.4, longestStep);
      } else if (factor < shortestStep || last === null) return;
      else factor = Math.min(factor, next / last.inputVolts) ** 0.4;
    }
  }
}

/** Up to the first level beyond overload, then between the last two to the overload itself. */
function climb(search: SteadySearch): { overload: Overload; points: readonly DistortionPoint[] } {
  const { hz } = search;
  const points: DistortionPoint[] = [];
  let below: SteadyState | null = null;
  for (const state of risingStates(search, toldLevels)) {
    const inputMv = 1000 * state.inputVolts;
    if (toldLevels.includes(state.inputVolts)) points.push({ hz, inputMv, thdPercent: 100 * thd(state) });
    if (excess(state) >= 0) {
      const found = below === null ? state : between(search, below, state);
      return { overload: overloadOf(hz, found, inputMv), points };
    }
    below = state;
  }
  return {
    overload: {
      hz,
      inputMv: null,
      above5mvDb: null,
      by: null,
      limitedBy: null,
      share: null,
      outputV: null,
      triedMv: 1000 * (below?.inputVolts ?? 0),
    },
    points,
  };
}

function thd({ output }: SteadyState): number {
  let sum = 0;
  for (let k = 2; k <= highestHarmonic; k++) sum += amplitude(output, k) ** 2;
  return Math.sqrt(sum) / amplitude(output, 1);
}

/** dB of gain lost against the small signal. */
function compression({ output, linear }: SteadyState): number {
  return -20 * Math.log10(amplitude(output, 1) / amplitude(linear, 0));
}

function amplitude(pairs: Float64Array, k: number): number {
  return Math.hypot(pairs[2 * k] ?? 0, pairs[2 * k + 1] ?? 0);
}

/** Least THD over that of overload that a search looks at: an op-amp's is nothing until it clips. */
const leastRatio = 1e-3;

/** Above 0 in overload; grows with level. */
function excess(state: SteadyState): number {
  return Math.max(distortionExcess(state), compressionExcess(state));
}

function distortionExcess(state: SteadyState): number {
  return Math.log(Math.max(thd(state) / overloadThd, leastRatio));
}

function compressionExcess(state: SteadyState): number {
  return Math.log(Math.max(compression(state) / overloadCompression, leastRatio));
}

/** Regula falsi with the Illinois rule (Dowell & Jarratt, BIT 11, 1971) over the logarithm of the level. */
function between(search: SteadySearch, below: SteadyState, above: SteadyState): SteadyState {
  let [low, high] = [below, above];
  let [atLow, atHigh] = [excess(below), excess(above)];
  let side = 0;
  while (high.inputVolts / low.inputVolts - 1 > levelTolerance) {
    const share = Math.min(Math.max(atHigh / (atHigh - atLow), 0.05), 0.95);
    const state = nearest(search, high.inputVolts * (low.inputVolts / high.inputVolts) ** share, low, high);
    if (state === null) break;
    const at = excess(state);
    if (Math.abs(at) < excessTolerance) return state;
    if (at < 0) {
      [low, atLow] = [state, at];
      if (side < 0) atHigh /= 2;
      side = -1;
    } else {
      [high, atHigh] = [state, at];
      if (side > 0) atLow /= 2;
      side = 1;
    }
  }
  return -atLow < atHigh ? low : high;
}

/** The state at a level, or failing that at one closer to the lower end. */
function nearest(search: SteadySearch, inputVolts: number, low: SteadyState, high: SteadyState): SteadyState | null {
  let level = inputVolts;
  while (level / low.inputVolts - 1 > levelTolerance / 2) {
    const state = search.at(level, low) ?? search.at(level, high);
    if (state !== null) return state;
    level = Math.sqrt(level * low.inputVolts);
  }
  return null;
}

function overloadOf(hz: number, state: SteadyState, triedMv: number): Overload {
  const by = distortionExcess(state) >= compressionExcess(state) ? 'distortion' : 'compression';
  const { ref, share } = leadingPart(state, by);
  const { inputVolts } = state;
  return {
    hz,
    inputMv: 1000 * inputVolts,
    above5mvDb: 20 * Math.log10(inputVolts / programme),
    by,
    limitedBy: ref,
    share,
    outputV: amplitude(state.output, 1) / Math.SQRT2,
    triedMv,
  };
}

/**
 * What the parts bend adds up to the distortion at the output (and, at the fundamental, to the gain lost); a part's share is what of it lies
 * along the sum.
 */
function leadingPart(
  state: SteadyState,
  by: 'distortion' | 'compression',
): { ref: string | null; share: number | null } {
  const [from, to] = by === 'distortion' ? [2, highestHarmonic] : [1, 1];
  const whole = state.output.slice();
  whole[2] = (whole[2] ?? 0) - (state.linear[0] ?? 0);
  whole[3] = (whole[3] ?? 0) - (state.linear[1] ?? 0);
  const along = (pairs: Float64Array): number => {
    let sum = 0;
    for (let i = 2 * from; i < 2 * to + 2; i++) sum += (pairs[i] ?? 0) * (whole[i] ?? 0);
    return sum;
  };
  const shares = state.parts.map(({ ref, output }) => ({ ref, share: along(output) / along(whole) }));
  return shares.toSorted((a, b) => b.share - a.share)[0] ?? { ref: null, share: null };
}
