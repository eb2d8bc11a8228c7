import { aWeightingPower, nominalFrequencies } from '@curvewright/curves';
import { transformSize } from '../spectrum/fourier.ts';
import { bandPower, powerDensity, type PowerDensity } from '../spectrum/welch.ts';

/** Noise of a stretch without a signal, powers re full scale ±1 (1 is a mean square of 1). */
export interface NoisePower {
  /** 20 Hz to 20 kHz, or as far as the rate goes. */
  readonly band: number;
  readonly aWeighted: number;
  /** Per Hz in third octaves. */
  readonly spectrum: readonly { readonly hz: number; readonly perHz: number }[];
}

const [fromHz, toHz] = [20, 20_000];
const thirdOctave = 2 ** (1 / 6);

/** Null where the stretch is too short. */
export function noisePower(samples: Float64Array, rate: number): NoisePower | null {
  const density = powerDensity(samples, rate, transformSize(0.6 * rate));
  if (density === null) return null;
  const top = Math.min(toHz, 0.45 * rate);
  return {
    band: bandPower(density, fromHz, top),
    aWeighted: bandPower(density, fromHz, top, aWeightingPower),
    spectrum: nominalFrequencies(25, top / thirdOctave).map((hz) => ({ hz, perHz: around(density, hz) })),
  };
}

function around(density: PowerDensity, hz: number): number {
  const [low, high] = [hz / thirdOctave, hz * thirdOctave];
  return bandPower(density, low, high) / (high - low);
}

/** What is left of a noise when the measuring set's own is taken off; null where that is all, to a tenth of it. */
export function withoutInterface(power: number, own: number): number | null {
  return power > 1.1 * own ? power - own : null;
}
