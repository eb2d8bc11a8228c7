import type { AudibleNoise } from '@curvewright/verify';
import FFT from 'fft.js';
import { levelAt } from './ear-filter.ts';

/** Samples of a hiss loop: some seconds, long enough not to be heard to come round. */
const size = 2 ** 18;

/** rms values over the programme, with what is heard: a loop that begins where it ends. */
export interface NoiseLoop {
  readonly samples: Float32Array<ArrayBuffer>;
  readonly rms: number;
}

/**
 * Noise with this density at every frequency up to half the sample rate: every line of the loop has its own phase, drawn from `seed`, so
 * that two channels are as independent as on a board.
 */
export function hissLoop(hiss: AudibleNoise['hiss'], sampleRate: number, seed: number): NoiseLoop {
  const transform = new FFT(size) as { inverseTransform(out: Float64Array, from: Float64Array): void };
  const curve = { hz: hiss.map(({ hz }) => hz), db: hiss.map(({ ratio }) => 20 * Math.log10(ratio)) };
  const line = sampleRate / size;
  const random = draws(seed);
  const spectrum = new Float64Array(2 * size);
  let power = 0;
  for (let k = 1; k < size / 2; k++) {
    // Below the lowest that is heard nothing has to be moved.
    if (k * line < lowestHz) continue;
    const rms = 10 ** (levelAt(curve, k * line) / 20) * Math.sqrt(line);
    power += rms * rms;
    const angle = 2 * Math.PI * random();
    const half = (rms * Math.SQRT2 * size) / 2;
    for (const [at, sign] of [
      [k, 1],
      [size - k, -1],
    ] as const) {
      spectrum[2 * at] = half * Math.cos(angle);
      spectrum[2 * at + 1] = sign * half * Math.sin(angle);
    }
  }
  const out = new Float64Array(2 * size);
  transform.inverseTransform(out, spectrum);
  return { samples: Float32Array.from({ length: size }, (_, n) => out[2 * n] ?? 0), rms: Math.sqrt(power) };
}

/** Hz; lower noise is not heard. */
const lowestHz = 15;

/** One second of the lines, each at the nearest whole number of Hz; null where there are none. Rails are not in step: phases are drawn. */
export function humLoop(hum: AudibleNoise['hum'], sampleRate: number, seed: number): NoiseLoop | null {
  const heard = hum.filter(({ hz }) => hz < sampleRate / 2);
  if (heard.length === 0) return null;
  const random = draws(seed);
  const samples = new Float32Array(sampleRate);
  for (const { hz, ratio } of heard) {
    const [whole, phase] = [Math.round(hz), 2 * Math.PI * random()];
    for (let n = 0; n < sampleRate; n++) {
      const value = ratio * Math.SQRT2 * Math.sin((2 * Math.PI * whole * n) / sampleRate + phase);
      samples[n] = (samples[n] ?? 0) + value;
    }
  }
  return { samples, rms: Math.hypot(...heard.map(({ ratio }) => ratio)) };
}

/** Numbers from 0 to 1, the same for a seed: a linear congruential generator (Knuth, The Art of Computer Programming 2; from memory). */
function draws(seed: number): () => number {
  let state = BigInt(seed) + 1n;
  return () => {
    state = (state * 6364136223846793005n + 1442695040888963407n) & 0xffffffffffffffffn;
    return Number(state >> 11n) / 2 ** 53;
  };
}
