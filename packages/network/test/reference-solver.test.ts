import { describe, expect, it } from 'vitest';
import { compileNetwork, inspectCircuit, linearise, solveBias, solveResponse } from '../src/index.ts';
import { modulus, type Complex } from './complex.ts';
import { drawsFrom } from './random.ts';
import { randomMixture, randomPassive } from './random-networks.ts';
import { nodalGain, referenceGain } from './reference.ts';

const seed = 20261125;
const frequencies = Float64Array.of(2, 200, 20e3, 100e3);

/** What two backward-stable solvers may differ by, over the larger of the gain and the 1 V that drives it. */
const allowed = (condition: number): number => Math.max(1e-9, 20 * Number.EPSILON * condition);

const gap = ([a, b]: Complex, [c, d]: Complex): number => Math.hypot(a - c, b - d) / Math.max(1, Math.hypot(c, d));

describe('response against a dense real solve by ml-matrix', () => {
  it('agrees on 1,000 random networks of RLC parts, diodes, transistors and JFETs', { timeout: 60_000 }, () => {
    const worst = { gap: 0, gapOverAllowed: 0, condition: 0, residual: 0, passing: 0 };
    for (let n = 0; n < 1000; n++) {
      const stage = randomMixture(drawsFrom(seed + n));
      // A node that one lead touches is a slip of the pen; its equation is sound.
      const faults = inspectCircuit(stage).filter(({ code }) => code !== 'floating-node');
      expect(faults, `network ${n}`).toEqual([]);
      const network = compileNetwork(stage);
      const bias = solveBias(network);
      if (!bias.ok) throw new Error(`network ${n}: ${bias.diagnostic.message}`);
      const small = linearise(network, bias.point);
      const response = solveResponse(small, frequencies);
      worst.residual = Math.max(worst.residual, response.residual);
      frequencies.forEach((hz, k) => {
        const flat = response.gains[0]![0]!;
        const computed: Complex = [flat[2 * k]!, flat[2 * k + 1]!];
        const { gain, condition } = referenceGain(small, hz);
        const difference = gap(computed, gain);
        if (modulus(gain) > 1e-3) worst.passing++;
        worst.gap = Math.max(worst.gap, difference);
        worst.gapOverAllowed = Math.max(worst.gapOverAllowed, difference / allowed(condition));
        worst.condition = Math.max(worst.condition, condition);
      });
    }
    console.log(
      `1,000 random networks: worst difference ${worst.gap.toExponential(1)}, ${worst.gapOverAllowed.toExponential(1)} of what is ` +
        `allowed; worst condition ${worst.condition.toExponential(1)}; worst residual ${worst.residual.toExponential(1)}; ` +
        `${worst.passing} of 4,000 gains above −60 dB`,
    );
    expect(worst.gapOverAllowed).toBeLessThanOrEqual(1);
    expect(worst.residual).toBeLessThanOrEqual(1e-12);
    // Enough of them pass a signal for the comparison to mean something.
    expect(worst.passing).toBeGreaterThan(2000);
  });

  it('agrees with node equations put up straight from the parts on 500 random RLC networks', () => {
    let worst = 0;
    for (let n = 0; n < 500; n++) {
      const stage = randomPassive(drawsFrom(seed + n));
      const network = compileNetwork(stage);
      const bias = solveBias(network);
      if (!bias.ok) throw new Error(`network ${n}: ${bias.diagnostic.message}`);
      const response = solveResponse(linearise(network, bias.point), frequencies);
      expect(response.residual).toBeLessThanOrEqual(1e-12);
      frequencies.forEach((hz, k) => {
        const flat = response.gains[0]![0]!;
        worst = Math.max(worst, gap([flat[2 * k]!, flat[2 * k + 1]!], nodalGain(stage, hz)));
      });
    }
    console.log(`500 random RLC networks: worst difference ${worst.toExponential(1)}`);
    // Coils' admittances of up to 1 kS beside resistors of 1 MΩ: some 1e9 of eps.
    expect(worst).toBeLessThan(1e-7);
  });
});
