import type { Modes } from './modes.ts';

/** How a made recording is taken. */
export interface Taking {
  /** Frames a second of the player, by its own clock. */
  readonly playedRate: number;
  /** Frames a second of the recorder, by its own clock, and how much faster that runs than the player's. */
  readonly recordedRate: number;
  readonly ppm: number;
  /** s from the start of the recorder to that of the player. */
  readonly startS: number;
  /** Of the recording. */
  readonly seconds: number;
}

/** Steps to a sample, and places in a step at which the input is read: a polynomial of fourth order through them. */
const [steps, places] = [2, 5];
/** Half the interpolator of the player's converter, samples; a Blackman window. */
const reach = 32;
const finesse = 1024;

/**
 * What a recorder takes at the outputs of a board: every mode steps from sample to sample of the recorder's clock by its own exponential (exact for the
 * board; the input between samples is band-limited, and a polynomial between five places of half a sample).
 */
export function recordedOutputs(
  { list, direct }: Modes,
  played: readonly Float64Array[],
  taking: Taking,
): Float64Array[] {
  const { playedRate, recordedRate, ppm, startS, seconds } = taking;
  const sample = 1 / (recordedRate * (1 + ppm * 1e-6));
  const h = sample / steps;
  const frames = Math.round(seconds * recordedRate);
  const outputs = played.map(() => new Float64Array(frames));
  const weights = list.map(({ pole }) => stepWeights(pole, h));
  const growth = list.map(
    ({ pole: [p, q] }) => [Math.exp(p * h) * Math.cos(q * h), Math.exp(p * h) * Math.sin(q * h)] as const,
  );
  const states = list.map(() => played.map(() => [0, 0]));
  const at = Array.from({ length: places }, () => played.map(() => 0));
  const read = (t: number, into: number[]): void => {
    for (let i = 0; i < played.length; i++) into[i] = converter(played[i]!, (t - startS) * playedRate);
  };
  read(0, at[0]!);
  for (let n = 0; n < frames; n++) {
    for (let o = 0; o < outputs.length; o++) {
      let sum = 0;
      for (let i = 0; i < played.length; i++) {
        sum += direct[i]![o]! * at[0]![i]!;
        for (let k = 0; k < list.length; k++) {
          const [a, b] = list[k]!.residue[i]![o]!;
          const [x, y] = states[k]![i]!;
          sum += a * x! - b * y!;
        }
      }
      outputs[o]![n] = sum;
    }
    for (let s = 0; s < steps; s++) {
      for (let place = 1; place < places; place++) read(n * sample + (s + place / (places - 1)) * h, at[place]!);
      for (let k = 0; k < list.length; k++) {
        const [c, d] = growth[k]!;
        for (let i = 0; i < played.length; i++) {
          const state = states[k]![i]!;
          let [x, y] = [c * state[0]! - d * state[1]!, c * state[1]! + d * state[0]!];
          for (let place = 0; place < places; place++) {
            const u = at[place]![i]!;
            x += weights[k]![place]![0] * u;
            y += weights[k]![place]![1] * u;
          }
          state[0] = x;
          state[1] = y;
        }
      }
      for (let i = 0; i < played.length; i++) at[0]![i] = at[places - 1]![i]!;
    }
  }
  return outputs;
}

/** ∫ e^(pole·(h − s))·L(s) ds over a step, L the polynomial that is 1 at one place and 0 at the others; complex. */
function stepWeights([p, q]: readonly [number, number], h: number): (readonly [number, number])[] {
  // Midpoints, of fast modes more: the sum is then good to 1e-7 of the whole.
  const panels = Math.ceil(2000 * (1 + Math.hypot(p, q) * h));
  return Array.from({ length: places }, (_, place) => {
    let [re, im] = [0, 0];
    for (let m = 0; m < panels; m++) {
      const s = (m + 0.5) / panels;
      let value = h / panels;
      for (let other = 0; other < places; other++) {
        if (other !== place) value *= (s * (places - 1) - other) / (place - other);
      }
      const size = value * Math.exp(p * h * (1 - s));
      re += size * Math.cos(q * h * (1 - s));
      im += size * Math.sin(q * h * (1 - s));
    }
    return [re, im] as const;
  });
}

const kernel = Float64Array.from({ length: reach * finesse + 2 }, (_, n) => {
  const t = n / finesse;
  const x = Math.PI * t;
  const window = t >= reach ? 0 : 0.42 + 0.5 * Math.cos(x / reach) + 0.08 * Math.cos((2 * x) / reach);
  return window * (t === 0 ? 1 : Math.sin(x) / x);
});

/** A player's output between its samples. */
function converter(samples: Float64Array, at: number): number {
  const [first, last] = [Math.max(0, Math.ceil(at - reach)), Math.min(samples.length - 1, Math.floor(at + reach))];
  let sum = 0;
  for (let n = first; n <= last; n++) {
    const place = Math.abs(at - n) * finesse;
    const k = Math.trunc(place);
    sum += samples[n]! * (kernel[k]! + (place - k) * (kernel[k + 1]! - kernel[k]!));
  }
  return sum;
}
