import type { SweepSegment } from '../signal/signal-plan.ts';
import type { Trouble } from './problem.ts';
import { isThere, recordedAt, type Laid } from './stretches.ts';

/** Which recorded samples are which channel's. */
export interface Recorded {
  readonly channels: readonly { readonly name: 'left' | 'right'; readonly samples: Float64Array }[];
  readonly troubles: readonly Trouble[];
}

/** dB within which both channels of a stretch that feeds one of them make a mix, and beyond which the wrong one is fed. */
const [mixWithin, swappedBeyond] = [1, 10];

/** Tells the channels of a recording apart by the sweeps that feed one of them; without such, as the file has them. */
export function recordedChannels(laid: Laid): Recorded {
  const { plan, wav } = laid;
  const alone = plan.segments.filter(
    (segment): segment is SweepSegment =>
      segment.kind === 'sweep' && segment.feeds !== 'both' && isThere(laid, segment),
  );
  const [first, second] = wav.channels;
  if (first === undefined) return { channels: [], troubles: [] };
  if (second === undefined) return singleChannel(laid, first, alone);
  const usual: Recorded['channels'] = [
    { name: 'left', samples: first },
    { name: 'right', samples: second },
  ];
  const told = alone.map((segment) => {
    const [a, b] = [first, second].map((samples) => levelIn(laid, samples, segment));
    return segment.feeds === 'left' ? a! - b! : b! - a!;
  });
  if (told.length > 0 ? told.every((db) => Math.abs(db) < mixWithin) : same(first, second)) {
    return {
      channels: usual,
      troubles: [
        trouble(
          laid,
          'mono-mix',
          alone[0],
          'both channels hold the same mix: switch the recorder, the player and the amplifier to stereo; balance and crosstalk are not measured',
        ),
      ],
    };
  }
  if (told.length > 0 && told.every((db) => db < -swappedBeyond)) {
    const message =
      'left and right are exchanged between player and recorder; read the right way round here, but look at the cables';
    return {
      channels: [
        { name: 'left', samples: second },
        { name: 'right', samples: first },
      ],
      troubles: [trouble(laid, 'channels-swapped', alone[0], message)],
    };
  }
  return { channels: usual, troubles: [] };
}

function singleChannel(laid: Laid, samples: Float64Array, alone: readonly SweepSegment[]): Recorded {
  const of = (feeds: 'left' | 'right'): number | null => {
    const segment = alone.find((each) => each.feeds === feeds);
    return segment === undefined ? null : levelIn(laid, samples, segment);
  };
  const [left, right] = [of('left'), of('right')];
  if (left !== null && right !== null && Math.abs(left - right) < swappedBeyond) {
    const message =
      'one channel was recorded and holds both: a mono mix-down; record in stereo, or one channel after the other';
    return { channels: [], troubles: [trouble(laid, 'mono-mix', alone[0], message)] };
  }
  const name = left !== null && right !== null && right > left ? 'right' : 'left';
  const message = `one channel was recorded; taken as the ${name} one${left === null || right === null ? ', which the recording does not tell' : ''}`;
  return { channels: [{ name, samples }], troubles: [trouble(laid, 'one-channel', undefined, message)] };
}

function trouble(laid: Laid, code: Trouble['code'], segment: SweepSegment | undefined, message: string): Trouble {
  const fromS = segment === undefined ? null : recordedAt(laid, segment.at);
  return {
    code,
    channel: null,
    fromS,
    toS: segment === undefined ? null : recordedAt(laid, segment.at + segment.seconds),
    message,
  };
}

/** dB re full scale, rms about the mean. */
function levelIn(laid: Laid, samples: Float64Array, { at, seconds }: SweepSegment): number {
  const [from, to] = [at, at + seconds].map((moment) => Math.round(recordedAt(laid, moment) * laid.wav.rate));
  const stretch = samples.subarray(Math.max(0, from!), Math.max(0, to!));
  const mean = stretch.reduce((sum, x) => sum + x, 0) / stretch.length;
  return 10 * Math.log10(stretch.reduce((sum, x) => sum + (x - mean) ** 2, 1e-30) / stretch.length);
}

function same(a: Float64Array, b: Float64Array): boolean {
  return a.every((x, n) => x === b[n]);
}
