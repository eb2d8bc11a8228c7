import { planSignal, renderSignal, type SignalPlan, type SignalWishes, type Wav } from '../../src/index.ts';

/** A short signal with everything in it. */
export function shortPlan(wishes: Partial<SignalWishes> = {}): SignalPlan {
  return planSignal({
    rate: 48_000,
    steps: ['level', 'left', 'right', 'silence'],
    shaping: 'flat',
    levelDbfs: -12,
    sweepSeconds: 3,
    fromHz: 5,
    toHz: 21_600,
    silenceSeconds: 2,
    ...wishes,
  });
}

/** Noise of a deviation of 1, the same for the same seed (Box and Muller on mulberry32; textbook). */
export function normalNumbers(seed: number): () => number {
  let state = seed >>> 0;
  const even = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - even())) * Math.cos(2 * Math.PI * even());
}

export interface Making {
  /** Frames of quiet before the signal. */
  readonly lead: number;
  /** Deviation of the noise, re full scale. */
  readonly noise: number;
  readonly bits: number;
  /** What a channel makes of what is played. */
  readonly board: (samples: Float64Array, channel: number) => Float64Array;
}

/** A recording of a plan on one clock, its samples rounded to `bits`. */
export function madeRecording(plan: SignalPlan, { lead, noise, bits, board }: Partial<Making> = {}): Wav {
  const played = renderSignal(plan);
  const frames = (lead ?? 12_345) + played[0].length;
  const channels = played.map((samples, channel) => {
    const heard = (board ?? equaliser)(samples, channel);
    const normal = normalNumbers(channel + 1);
    return Float64Array.from({ length: frames }, (_, n) =>
      rounded((heard[n - (lead ?? 12_345)] ?? 0) + (noise ?? 1e-4) * normal(), bits ?? 16),
    );
  });
  return { rate: plan.rate, bits: bits ?? 16, format: 'pcm', channels, frames, lost: [] };
}

export function rounded(x: number, bits: number): number {
  const steps = 2 ** (bits - 1);
  return Math.max(-1, Math.min(1 - 1 / steps, Math.round(x * steps) / steps));
}

/** The playback curve as two sections of first order and a subsonic one, stepped in time. Good enough to be a board. */
function equaliser(samples: Float64Array): Float64Array {
  const low = section(samples, 50.05, 500.5);
  const high = section(low, 2122, 40_000);
  return subsonic(high, 4).map((x) => 2 * x);
}

/** From 1 below a corner in Hz to corner/zero above the other (bilinear). */
function section(samples: Float64Array, cornerHz: number, zeroHz: number): Float64Array {
  const [p, z] = [cornerHz, zeroHz].map((hz) => Math.tan((Math.PI * hz) / 48_000));
  const out = new Float64Array(samples.length);
  let [before, last] = [0, 0];
  for (let n = 0; n < samples.length; n++) {
    const x = samples[n]!;
    const y = ((p! / z!) * ((1 + z!) * x - (1 - z!) * before) - (p! - 1) * last) / (1 + p!);
    out[n] = y;
    [before, last] = [x, y];
  }
  return out;
}

function subsonic(samples: Float64Array, cornerHz: number): Float64Array {
  const keep = Math.exp((-2 * Math.PI * cornerHz) / 48_000);
  let slow = 0;
  return samples.map((x) => {
    slow = keep * slow + (1 - keep) * x;
    return x - slow;
  });
}
