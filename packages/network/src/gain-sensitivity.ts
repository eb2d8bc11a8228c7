import type { BiasSensitivities } from './bias-sensitivity.ts';
import { common, type Unknown } from './elements.ts';
import type { SmallSignal } from './linearise.ts';
import { frequencySolver, type FrequencySolver } from './response.ts';
import { slopeTable } from './slope-table.ts';

/** Gains from each channel's input node to its output node, and what every parameter moves in them. */
export interface GainSensitivities {
  /** Hz, as asked for. */
  readonly frequencies: Float64Array;
  /** For each channel re, im pairs over the frequencies; NaN where the network is singular. */
  readonly gains: readonly Float64Array[];
  /** `slopes[channel][parameter]`: dH/d(ln parameter), re, im pairs over the frequencies, the bias moving along. */
  readonly slopes: readonly (readonly Float64Array[])[];
}

/**
 * Exact first-order sensitivities by adjoints (Director & Rohrer, IEEE Trans. Circuit Theory CT-16, 1969): with A x = drive and
 * Aᵀ y = (output − H·input)/x(input), dH = −yᵀ (∂A/∂p + Σ ∂A/∂s · ds/dp) x over all voltages s that the devices' slopes depend on: two
 * solves for each channel and frequency, whatever the number of parameters. `bias` is that of the network which `small` linearises.
 */
export function gainSensitivities(
  small: SmallSignal,
  bias: BiasSensitivities,
  frequencies: Float64Array,
  solver: FrequencySolver = frequencySolver(small),
): GainSensitivities {
  const { size, channels } = small;
  const table = slopeTable(bias, size);
  const gains = channels.map(() => new Float64Array(2 * frequencies.length));
  const slopes = channels.map(() => bias.parameters.map(() => new Float64Array(2 * frequencies.length)));
  // One place more than unknowns, which stays 0: gnd.
  const x = new Float64Array(2 * size + 2);
  const y = new Float64Array(2 * size + 2);
  const [forward, adjoint] = [x.subarray(0, 2 * size), y.subarray(0, 2 * size)];
  const moved = new Float64Array(2 * bias.parameters.length);
  const place = (unknown: Unknown): number => 2 * (unknown === common ? size : unknown);

  frequencies.forEach((hz, n) => {
    const solvable = solver.setFrequency(hz);
    channels.forEach(({ drive, input, output }, c) => {
      if (!solvable) {
        gains[c]!.fill(NaN, 2 * n, 2 * n + 2);
        for (const slope of slopes[c]!) slope.fill(NaN, 2 * n, 2 * n + 2);
        return;
      }
      forward.fill(0);
      forward[2 * drive] = 1;
      solver.solve(forward);
      const [over, under] = [place(output), place(input)];
      const [ur, ui] = [x[under]!, x[under + 1]!];
      const norm = ur * ur + ui * ui;
      const [or, oi] = [x[over]!, x[over + 1]!];
      const [hr, hi] = [(or * ur + oi * ui) / norm, (oi * ur - or * ui) / norm];
      gains[c]![2 * n] = hr;
      gains[c]![2 * n + 1] = hi;
      y.fill(0);
      const [ir, ii] = [ur / norm, -ui / norm];
      y[over] = ir;
      y[over + 1] = ii;
      y[under] = y[under]! - (hr * ir - hi * ii);
      y[under + 1] = y[under + 1]! - (hr * ii + hi * ir);
      y.fill(0, 2 * size);
      solver.solveTransposed(adjoint);
      table.between(x, y, 2 * Math.PI * hz, moved);
      slopes[c]!.forEach((slope, p) => {
        slope[2 * n] = -moved[2 * p]!;
        slope[2 * n + 1] = -moved[2 * p + 1]!;
      });
    });
  });
  return { frequencies, gains, slopes };
}
