import { steadySearch, type Jumps, type SteadySearch } from '@curvewright/network';
import { channelContent, twinPart } from './channel-twins.ts';
import { leadingPart, outputVolts, overloadedBy, thdOf } from './distortion.ts';
import { risingStates, searchBeyond, searchOverload, toldLevels, type OverloadSearch } from './overload-search.ts';
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
  /** mV rms; null where it was not found. */
  readonly inputMv: number | null;
  /**
   * How closely the search bounds `inputMv`, in % of it: 0.1, but more where no steady state was found on the way there. The samples of the
   * wave add up to 0.2 (seen between 128 and 512 of them).
   */
  readonly withinPercent: number | null;
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
  /**
   * True where no steady state was found beyond `triedMv`, which has no overload yet: where it overloads is not known. False with no `inputMv`:
   * the stage took every level tried.
   */
  readonly unresolved: boolean;
}

/** Hz at which headroom is told. */
export const headroomFrequencies: readonly number[] = [20, 100, 1000, 10_000, 20_000];

/** V rms of a pickup's programme that overload is held against. */
const programme = 5e-3;

export function headroom(stage: Stage, frequencies: readonly number[] = headroomFrequencies): HeadroomAnswer {
  const { circuit } = stage;
  const known = new Map<string, { readonly channel: number; readonly answer: ChannelHeadroom }>();
  return {
    channels: circuit.channels.map(({ name }, channel) => {
      const content = channelContent(circuit, channel);
      const twin = known.get(content);
      if (twin !== undefined) {
        const overload = twin.answer.overload.map(({ limitedBy, ...rest }) => ({
          ...rest,
          limitedBy: limitedBy && twinPart(circuit, limitedBy, twin.channel, channel),
        }));
        return { ...twin.answer, name, overload };
      }
      const told = frequencies.map((hz) => toldOf(hz, searchFor(stage, channel, hz)));
      const answer = {
        name,
        overload: told.map(({ overload }) => overload),
        points: told.flatMap(({ points }) => points),
      };
      known.set(content, { channel, answer });
      return answer;
    }),
  };
}

/** Overload of one channel at one frequency. */
export function overloadAt(stage: Stage, channel: number, hz: number): Overload {
  return toldOf(hz, searchFor(stage, channel, hz)).overload;
}

/** THD (a fraction) of one channel at one frequency and input (V rms); null where no steady state is found on the way there. */
export function thdAt(stage: Stage, channel: number, hz: number, inputVolts: number): number | null {
  const levels = [...toldLevels.filter((level) => level < inputVolts), inputVolts];
  const state = [...risingStates(searchOf(stage, channel, hz), levels)].at(-1);
  return state?.inputVolts === inputVolts ? thdOf(state) : null;
}

function searchOf({ network, point, small }: Stage, channel: number, hz: number, jumps: Jumps = 'sharp'): SteadySearch {
  return steadySearch(network, point, small, channel, hz, jumps);
}

function searchFor(stage: Stage, channel: number, hz: number): OverloadSearch {
  const sharp = searchOverload(searchOf(stage, channel, hz));
  return sharp.brokenOff ? searchBeyond(searchOf(stage, channel, hz, 'smoothed'), sharp) : sharp;
}

function toldOf(
  hz: number,
  { told, found, triedVolts, brokenOff }: OverloadSearch,
): { overload: Overload; points: readonly DistortionPoint[] } {
  const points = told.map((state) => ({ hz, inputMv: 1000 * state.inputVolts, thdPercent: 100 * thdOf(state) }));
  const tried = { triedMv: 1000 * triedVolts, unresolved: brokenOff };
  if (found === null) return { overload: { hz, ...notFound, ...tried }, points };
  const { state, within } = found;
  const by = overloadedBy(state);
  const { ref, share } = leadingPart(state, by);
  const overload = {
    hz,
    inputMv: 1000 * state.inputVolts,
    withinPercent: 100 * within,
    above5mvDb: 20 * Math.log10(state.inputVolts / programme),
    by,
    limitedBy: ref,
    share,
    outputV: outputVolts(state),
    ...tried,
  };
  return { overload, points };
}

const notFound: Omit<Overload, 'hz' | 'triedMv' | 'unresolved'> = {
  inputMv: null,
  withinPercent: null,
  above5mvDb: null,
  by: null,
  limitedBy: null,
  share: null,
  outputV: null,
};
