import type { Departure } from './departures.ts';
import type { HarmonicBalance } from './harmonic-balance.ts';
import type { HarmonicTransfers } from './harmonic-transfers.ts';
import type { SteadyState } from './steady-state.ts';

/** The highest harmonic that counts as distortion. */
export const highestHarmonic = 10;

/** What a settled balance gives at the output. */
export function outputOf(
  departures: readonly Departure[],
  transfers: HarmonicTransfers,
  balance: HarmonicBalance,
  inputVolts: number,
): Pick<SteadyState, 'output' | 'parts' | 'linear'> {
  const { harmonics } = balance;
  const width = 2 * harmonics;
  const linear = transfers.driven.map((value) => value * inputVolts);
  const output = new Float64Array(width);
  output.set(linear, 2);
  let port = 0;
  const parts = departures.map(({ ref, ports }) => {
    const share = new Float64Array(width);
    for (let p = port; p < port + ports.length; p++) {
      for (let k = 0; k < harmonics; k++) {
        const byPorts = transfers.outputByPorts(k);
        const [tr, ti] = [byPorts[2 * p]!, byPorts[2 * p + 1]!];
        const [rr, ri] = [balance.departures[p * width + 2 * k]!, balance.departures[p * width + 2 * k + 1]!];
        share[2 * k] = share[2 * k]! + tr * rr - ti * ri;
        share[2 * k + 1] = share[2 * k + 1]! + tr * ri + ti * rr;
      }
    }
    port += ports.length;
    for (let i = 0; i < width; i++) output[i] = output[i]! + share[i]!;
    return { ref, output: share };
  });
  return { output, parts, linear };
}

/**
 * What the upper half of the harmonics would bring to the audible ones, folded down, over the distortion there and over the fundamental;
 * above both the samples are doubled.
 */
const foldedOverDistortion = 1e-3;
const foldedOverFundamental = 1e-8;

export function isFineEnough(
  output: Float64Array,
  transfers: HarmonicTransfers,
  { departures, harmonics }: HarmonicBalance,
): boolean {
  const ports = departures.length / (2 * harmonics);
  let folded = 0;
  for (let p = 0; p < ports; p++) {
    let reach = 0;
    for (let k = 2; k <= highestHarmonic; k++) {
      const byPorts = transfers.outputByPorts(k);
      reach = Math.max(reach, Math.hypot(byPorts[2 * p]!, byPorts[2 * p + 1]!));
    }
    folded += reach * rootSum(departures, 2 * p * harmonics, harmonics / 2, harmonics - 1);
  }
  const allowed = foldedOverDistortion * rootSum(output, 0, 2, highestHarmonic);
  return folded <= allowed + foldedOverFundamental * rootSum(output, 0, 1, 1);
}

/** Root of the sum of the squares of the amplitudes from one harmonic to another. */
function rootSum(pairs: Float64Array, start: number, from: number, to: number): number {
  let sum = 0;
  for (let k = from; k <= to; k++) sum += pairs[start + 2 * k]! ** 2 + pairs[start + 2 * k + 1]! ** 2;
  return Math.sqrt(sum);
}
