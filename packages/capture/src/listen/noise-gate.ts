import { bandPower, powerDensity } from '../spectrum/welch.ts';
import { lagsWithNoise } from './gated-reader.ts';
import { gatedSpectrum, gateEnergy, gateSize, type Gate } from './gates.ts';
import type { Trouble } from './problem.ts';
import { growthOf, type SweepTake } from './sweep-take.ts';

/** Hz between which the noise under a sweep and that of a silence are compared: above hum and rumble, within every recorder. */
const [fromHz, toHz] = [2000, 8000];
/** Power by which a silence may be quieter than what lies under the sweep; a gate takes off 20 dB and more. */
const quieter = 20;
const gate: Gate = { before: 0.01, after: 0.03 };

/** A recorder that shuts between sounds: its silence is quieter than the noise under the sweep. `silence` is its second half, by when a gate has shut. */
export function noiseGate(
  take: SweepTake,
  silence: Float64Array,
  { bits, channel, fromS, toS }: { bits: number; channel: string; fromS: number; toS: number },
): Trouble | null {
  const under = densityUnder(take);
  const density = powerDensity(silence, take.rate, 4096);
  if (under === null || density === null) return null;
  const rounding = (2 * 2 ** (2 - 2 * bits)) / (12 * take.rate);
  const quiet = bandPower(density, fromHz, toHz) / (toHz - fromHz);
  if (under < quieter * (quiet + rounding)) return null;
  const db = (10 * Math.log10(under / (quiet + rounding))).toFixed(0);
  return {
    code: 'noise-gate',
    channel,
    fromS,
    toS,
    message: `the silence is ${db} dB quieter than the noise under the sweep: a noise gate shut; switch noise reduction and voice functions off, or no hiss and hum can be measured`,
  };
}

/** Power per Hz of the noise under a sweep, the least of its quiet lags: others may hold distortion of a high order. */
function densityUnder(take: SweepTake): number | null {
  const { rate } = take;
  const stepHz = rate / gateSize(rate, gate);
  const levels = lagsWithNoise(take, gate, fromHz)
    .filter((lag) => lagsWithNoise(take, gate, toHz).includes(lag))
    .map((lag) => {
      const spectrum = gatedSpectrum(take.heard, lag, gate);
      const [first, last] = [Math.ceil(fromHz / stepHz), Math.floor(toHz / stepHz)];
      let sum = 0;
      for (let k = first; k <= last; k++) {
        // |X|² of an even sweep at its frequency, by stationary phase: rate²·growth/(4·hz).
        const power = spectrum[2 * k]! ** 2 + spectrum[2 * k + 1]! ** 2;
        sum += (power * rate * rate * growthOf(take)) / (4 * k * stepHz);
      }
      return (2 * sum) / ((last - first + 1) * gateEnergy(rate, gate) * rate);
    });
  return levels.length === 0 ? null : Math.min(...levels);
}
