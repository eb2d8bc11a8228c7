import { popDetector, type Pops } from '../../src/pops/pop-detector.ts';
import { silence, type Silence } from './silence.ts';

/** Adds events to samples of silence. */
export type Plant = (samples: Float64Array, rate: number) => void;

export function recordingOf(background: Silence, seconds: number, ...plants: readonly Plant[]): Float64Array {
  const next = silence(background);
  const samples = Float64Array.from({ length: Math.round(background.rate * seconds) }, next);
  for (const plant of plants) plant(samples, background.rate);
  return samples;
}

/** What is found in samples that come in pieces of so many; `step` of the samples, 0 of floating point. */
export function popsIn(
  samples: Float64Array,
  rate: number,
  { step = 0, piece = 65_536 }: { step?: number; piece?: number } = {},
): Pops {
  const detector = popDetector({ rate, step });
  for (let from = 0; from < samples.length; from += piece) detector.push(samples.subarray(from, from + piece));
  return detector.finish();
}

/** A shape that begins at each of these times; `shape` is its level so many s later, 0 below 0. */
export function atTimes(times: readonly number[], lasts: number, shape: (s: number) => number): Plant {
  return (samples, rate) => {
    for (const time of times) {
      const first = Math.round(time * rate);
      const end = Math.min(samples.length, first + Math.ceil(lasts * rate));
      for (let n = first; n < end; n++) samples[n]! += shape((n - first) / rate);
    }
  };
}

/** One sample. */
export function clicks(times: readonly number[], height: number): Plant {
  return atTimes(times, 1e-9, () => height);
}

/** Two levels: it toggles at each of these times. */
export function telegraph(times: readonly number[], height: number): Plant {
  return (samples, rate) => {
    for (let k = 0; k < times.length; k += 2) {
      samples
        .subarray(Math.round(times[k]! * rate), Math.round((times[k + 1] ?? 1e9) * rate))
        .forEach((value, n, part) => {
          part[n] = value + height;
        });
    }
  };
}

export function every(from: number, to: number, apart: number): readonly number[] {
  return Array.from({ length: Math.floor((to - from) / apart + 1e-9) + 1 }, (_, n) => from + n * apart);
}
