import { describe, expect, it } from 'vitest';
import { compileNetwork, deviceCurrents, inspectCircuit, nodeVolts, solveBias } from '../src/index.ts';
import { worstKirchhoff } from './kirchhoff.ts';
import { drawsFrom } from './random.ts';
import { randomStage } from './random-stages.ts';

const seed = 20261125;

describe('bias of 1,000 random transistor stages', () => {
  it('is found and obeys Kirchhoff at every node, or its refusal names why', { timeout: 60_000 }, () => {
    const methods: Record<string, number> = {};
    const refusals: string[] = [];
    let [transistors, active, steps, worst] = [0, 0, 0, 0];
    for (let n = 0; n < 1000; n++) {
      const { what, circuit } = randomStage(drawsFrom(seed + n));
      expect(inspectCircuit(circuit), `${n} ${what}`).toEqual([]);
      const network = compileNetwork(circuit);
      const bias = solveBias(network);
      if (!bias.ok) {
        refusals.push(`${n} ${what}: ${bias.diagnostic.message}`);
        const names = [...circuit.parts.map(({ ref }) => ref), ...network.nodes.keys()];
        expect(
          names.some((name) => bias.diagnostic.message.includes(name)),
          bias.diagnostic.message,
        ).toBe(true);
        continue;
      }
      const { point } = bias;
      methods[point.method] = (methods[point.method] ?? 0) + 1;
      steps = Math.max(steps, point.steps);
      worst = Math.max(worst, worstKirchhoff(circuit, network, point));
      expect(point.kirchhoffRatio).toBeLessThanOrEqual(1);
      for (const part of circuit.parts) {
        if (part.kind !== 'typed' || !('hFE' in part.type)) continue;
        const across =
          nodeVolts(network, point, part.leads.collector!) - nodeVolts(network, point, part.leads.emitter!);
        const { collector } = deviceCurrents(network, point, part.ref) as { collector: number };
        transistors++;
        if (Math.abs(across) > 0.3 && Math.abs(collector) > 5e-6) active++;
      }
    }
    const found = Object.values(methods).reduce((sum, count) => sum + count, 0);
    console.log(
      `1,000 random stages: ${found} found (${JSON.stringify(methods)}), ${refusals.length} refused; at most ${steps} steps; worst ` +
        `Kirchhoff sum ${worst.toFixed(3)} of what is allowed; ${active} of ${transistors} transistors active`,
      ...refusals,
    );
    // Kirchhoff's sums are taken anew here, in another order: their own rounding is part of the 8 eps allowed.
    expect(worst).toBeLessThanOrEqual(1);
    expect(found).toBe(1000);
    // The stages are sane: hardly a transistor is cut off or saturated.
    expect(active / transistors).toBeGreaterThan(0.95);
  });
});
