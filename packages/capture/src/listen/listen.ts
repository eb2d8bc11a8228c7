import { nominalFrequencies, playbackTransfer } from '@curvewright/curves';
import { channelNoise, type ChannelNoise, type NoiseScale, type Silence } from './channel-noise.ts';
import { channelReadings, type LaidChannel, type Reading, type TakeOf } from './channel-response.ts';
import { listenPoints, overLoopback } from './corrected.ts';
import { crosstalkPoints, type CrosstalkPoint } from './crosstalk-points.ts';
import { layRecording, type LaidRecording } from './lay.ts';
import type { ListenAnswer, ListenChannel, ListenInput } from './listen-answer.ts';
import { balanceOf, worstOf } from './listen-figures.ts';
import { inRecording } from './problem.ts';
import { channelTroubles } from './recording-troubles.ts';
import { tableReader, type ResponseTable } from './response-table.ts';
import { isThere, recordedAt } from './stretches.ts';
import type { Pair } from './sweep-take.ts';
import { rememberedTakes } from './take-sweep.ts';

/** Hz at which a recording is read. */
const frequencies = [...new Set([...nominalFrequencies(5, 40_000), 30, 15_000])].toSorted((a, b) => a - b);
/** s at either end of a silence in which the sound before it still rings. */
const silenceLead = 0.3;

/** A channel as it was read, and over the loop-back. */
interface ReadChannel {
  readonly channel: LaidChannel;
  readonly readings: readonly Reading[];
  readonly corrected: readonly Reading[];
  readonly overLoopback: boolean;
}

/** What a recording of a test signal says of the board. */
export function listen(input: ListenInput): ListenAnswer {
  const { plan, recording, loopback, shorted } = input;
  const takeOf = rememberedTakes(plan, 0.45 * Math.min(recording.rate, loopback?.rate ?? Infinity));
  const expected = expectedGain(input);
  const board = layRecording(plan, recording);
  const set = loopback === null ? null : layRecording(plan, loopback);
  const straight = new Map(
    set?.channels.map((channel) => [channel.name, channelReadings(channel, takeOf, flat, frequencies)]),
  );
  const read = board.channels.map((channel): ReadChannel => {
    const readings = channelReadings(channel, takeOf, expected, frequencies);
    const own = straight.get(channel.name) ?? null;
    return { channel, readings, corrected: overLoopback(readings, own), overLoopback: own !== null };
  });
  const troublesOf = (
    laid: LaidRecording,
    gain: typeof expected,
    readingsOf: (channel: LaidChannel) => readonly Reading[],
  ) => [
    ...laid.troubles,
    ...laid.channels
      .flatMap((channel) => channelTroubles(channel, takeOf, gain, readingsOf(channel)))
      // In a mix, what feeds both channels is louder than what feeds one.
      .filter(({ code }) => !(laid.mixed && code === 'level-control')),
  ];
  const [one, other] = read;
  return {
    channels: read.map((each) => channelAnswer(each, input, set, expected)),
    balanceDb:
      board.mixed || one === undefined || other === undefined ? null : balanceOf(one.corrected, other.corrected),
    crosstalk: board.mixed ? [] : crosstalkOf(read, takeOf, expected),
    clock: board.timeline === null ? null : { ppm: board.timeline.ppm, offsetS: board.timeline.offsetS },
    problems: [
      ...inRecording(
        'board',
        troublesOf(board, expected, (channel) => read.find((each) => each.channel === channel)?.readings ?? []),
      ),
      ...(set === null
        ? []
        : inRecording(
            'loopback',
            troublesOf(set, flat, ({ name }) => straight.get(name) ?? []),
          )),
      ...inRecording(
        'shorted',
        (shorted?.lost ?? []).map((message) => ({ code: 'truncated', channel: null, fromS: null, toS: null, message })),
      ),
    ],
  };
}

function channelAnswer(
  read: ReadChannel,
  input: ListenInput,
  set: LaidRecording | null,
  expected: (hz: number) => Pair,
): ListenChannel {
  const { channel, readings, corrected } = read;
  const points = listenPoints(corrected, unityDb(read, input));
  const ratio = readings.find(({ hz }) => hz === 1000)?.ratio;
  const tone = ratio === undefined ? null : Math.hypot(...times(ratio, expected(1000)));
  return {
    name: channel.name,
    gainDb: points.find(({ hz }) => hz === 1000)?.gainDb ?? null,
    ...worstOf(points),
    points,
    noise: noiseOf(channel, input, set, { tone, level: input.level }),
  };
}

/** Gain in dB that a corrected ratio of 1 stands for; null without calibration. */
function unityDb({ overLoopback: over }: ReadChannel, { adapter, level, fullScale }: ListenInput): number | null {
  if (over) return 0;
  if (level === null || fullScale === null) return null;
  const before = adapter === null ? 1 : Math.hypot(...tableReader(adapter)(1000));
  return 20 * Math.log10((before * fullScale) / level);
}

/** Of the shorted recording, or of the plan's silence. */
function noiseOf(
  channel: LaidChannel,
  { recording, shorted }: ListenInput,
  set: LaidRecording | null,
  scale: NoiseScale,
): ChannelNoise | null {
  const own = set?.channels.find(({ name }) => name === channel.name);
  const ownSilence = own === undefined ? null : silenceIn(own);
  if (shorted === null) {
    const silence = silenceIn(channel);
    return silence === null ? null : channelNoise('silence', silence, ownSilence, scale);
  }
  const samples = shorted.channels[recording.channels.indexOf(channel.samples)];
  return samples === undefined ? null : channelNoise('shorted', { samples, rate: shorted.rate }, ownSilence, scale);
}

function silenceIn({ laid, samples }: LaidChannel): Silence | null {
  const { plan, wav } = laid;
  const segment = plan.segments.find((each) => each.kind === 'silence' && isThere(laid, each));
  if (segment === undefined) return null;
  const [from, to] = [segment.at + silenceLead, segment.at + segment.seconds].map((at) =>
    Math.round(recordedAt(laid, at) * wav.rate),
  );
  return { samples: samples.subarray(from, to), rate: wav.rate };
}

function crosstalkOf(
  read: readonly ReadChannel[],
  takeOf: TakeOf,
  expected: (hz: number) => Pair,
): readonly CrosstalkPoint[] {
  return read.flatMap((driven) =>
    read
      .filter((heard) => heard !== driven)
      .flatMap(({ channel }) =>
        crosstalkPoints(channel, { name: driven.channel.name, readings: driven.readings }, takeOf, expected),
      ),
  );
}

/** What is expected of everything from the player to the recorder, but for a factor: the curve, and what is known of adapter and chain. */
function expectedGain({ adapter, chain }: ListenInput): (hz: number) => Pair {
  const known = [adapter, chain].flatMap((table: ResponseTable | null) => (table === null ? [] : [tableReader(table)]));
  return (hz) => {
    const { re, im } = playbackTransfer('riaa', hz);
    return known.reduce((gain, reader) => times(gain, reader(hz)), [re, im] as Pair);
  };
}

function flat(): Pair {
  return [1, 0];
}

function times([a, b]: Pair, [c, d]: Pair): Pair {
  return [a * c - b * d, a * d + b * c];
}
