import type { Unknown } from './elements.ts';
import type { SmallSignal } from './linearise.ts';
import type { NoiseGenerator } from './noise-generators.ts';
import { frequencySolver } from './response.ts';

/** Density at one output of every generator over every frequency, V²/Hz: entry generator · frequencies + frequency. NaN where the network is singular. */
export type NoiseDensities = Float64Array;

/**
 * What each generator makes at each output: one solve of the transposed network per output and frequency gives the transfer from every
 * generator at once (adjoint network: Rohrer, Nagel, Meyer & Weber, IEEE J. Solid-State Circuits 6, 1971; from memory).
 */
export function noiseDensities(
  small: SmallSignal,
  generators: readonly NoiseGenerator[],
  outputs: readonly Unknown[],
  frequencies: Float64Array,
): readonly NoiseDensities[] {
  const solver = frequencySolver(small);
  const reach = new Float64Array(2 * small.size);
  const densities = outputs.map(() => new Float64Array(generators.length * frequencies.length));
  for (let n = 0; n < frequencies.length; n++) {
    const hz = frequencies[n]!;
    const solvable = solver.setFrequency(hz);
    for (let o = 0; o < outputs.length; o++) {
      const output = outputs[o]!;
      reach.fill(solvable ? 0 : NaN);
      if (solvable && output >= 0) {
        reach[2 * output] = 1;
        solver.solveTransposed(reach);
      }
      for (let g = 0; g < generators.length; g++) {
        densities[o]![g * frequencies.length + n] = densityAt(generators[g]!, reach, hz);
      }
    }
  }
  return densities;
}

/** `reach`: V at the output for 1 A or 1 V in each row, re im pairs. */
function densityAt({ injections, white, falling, rising }: NoiseGenerator, reach: Float64Array, hz: number): number {
  const omega = 2 * Math.PI * hz;
  let re = 0;
  let im = 0;
  for (let k = 0; k < injections.length; k++) {
    const { row, amount, rate } = injections[k]!;
    const xr = reach[2 * row]!;
    const xi = reach[2 * row + 1]!;
    re += amount * xr - omega * rate * xi;
    im += amount * xi + omega * rate * xr;
  }
  return (re * re + im * im) * (white + falling / hz + rising * hz);
}
