import { powerOf } from './gated-reader.ts';
import type { Pair } from './sweep-take.ts';
import type { Harmonic } from './harmonic.ts';

/** A steady tone as it came back. */
export interface ToneReading {
  /** Amplitude and phase against sin(2π·hz·t), t from the first sample. */
  readonly level: Pair;
  readonly snrDb: number;
  readonly harmonics: readonly (Harmonic | null)[];
}

/** Bins of the window, to either side of a line, in which the noise beside it is read; the Hann window's own skirt ends at 2. */
const besideBins = [4, 5, 6, 7, 8];

/** Reads a tone and its harmonics, at frequencies up to `highestHz`, from samples that hold it all the way. */
export function toneReading(
  samples: Float64Array,
  rate: number,
  hz: number,
  orders: readonly number[],
  highestHz: number,
): ToneReading {
  const bin = rate / samples.length;
  const weighted = samples.map((x, n) => x * (1 - Math.cos((2 * Math.PI * n) / samples.length)));
  const noiseAround = (at: number): number => {
    const powers = besideBins.flatMap((k) => [-k, k].map((side) => powerOf(lineAt(weighted, rate, at + side * bin))));
    return powers.reduce((sum, power) => sum + power, 0) / powers.length;
  };
  const level = lineAt(weighted, rate, hz);
  const power = powerOf(level);
  return {
    level,
    snrDb: 10 * Math.log10(power / noiseAround(hz)),
    harmonics: orders.map((order) => {
      if (order * hz > highestHz) return null;
      const noise = noiseAround(order * hz);
      const own = powerOf(lineAt(weighted, rate, order * hz));
      return { order, ratio: Math.sqrt(Math.max(0, own - noise) / power), floor: Math.sqrt(noise / power) };
    }),
  };
}

/** The sine at a frequency in Hann-weighted samples: Σ w·x·(sin + j·cos), 1 and 0 for sin(2π·hz·t). */
function lineAt(weighted: Float64Array, rate: number, hz: number): Pair {
  const [turnRe, turnIm] = [Math.cos((2 * Math.PI * hz) / rate), Math.sin((2 * Math.PI * hz) / rate)];
  let [re, im, cos, sin] = [0, 0, 1, 0];
  for (let n = 0; n < weighted.length; n++) {
    re += weighted[n]! * sin;
    im += weighted[n]! * cos;
    const next = cos * turnRe - sin * turnIm;
    sin = sin * turnRe + cos * turnIm;
    cos = next;
  }
  return [(2 * re) / weighted.length, (2 * im) / weighted.length];
}
