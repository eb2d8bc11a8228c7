import type { Circuit, DiodeType, TriodeType } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { attempts } from '../src/attempts.ts';
import { createEquations } from '../src/equations.ts';
import { compileNetwork, nodeVolts, solveBias } from '../src/index.ts';
import { createSearch } from '../src/newton.ts';
import { circuit, rail, resistor, typed } from './circuits.ts';
import { worstKirchhoff } from './kirchhoff.ts';
import { drawsFrom } from './random.ts';
import { randomStage } from './random-stages.ts';
import { randomTangle } from './random-tangles.ts';
import { biased } from './solved.ts';

const seed = 20261125;

/** Unknowns that one way alone finds; null where it does not. */
function foundBy(find: (typeof attempts)[number]['find'], stage: Circuit): Float64Array | null {
  const search = createSearch(createEquations(compileNetwork(stage)));
  return find(search) ? search.x : null;
}

describe.each(attempts)('$method', ({ find }) => {
  it('alone finds the bias of 200 random sane stages, the same as the others', () => {
    for (let n = 0; n < 200; n++) {
      const { what, circuit: stage } = randomStage(drawsFrom(seed + n));
      const { point } = biased(stage);
      const x = foundBy(find, stage);
      expect(x, `${n} ${what}`).not.toBeNull();
      // Sums of 1e-12 A through the tens of MΩ that a collector can show leave some 1e-5 V; in practice far less.
      x!.forEach((value, i) => {
        expect(Math.abs(value - point.x[i]!), `${n} ${what}`).toBeLessThan(1e-5);
      });
    }
  });
});

it('each fallback is the one that finds the bias of some of 1,500 random tangles', { timeout: 60_000 }, () => {
  const counts: Record<string, number> = { refused: 0 };
  for (let n = 0; n < 1500; n++) {
    const tangle = randomTangle(drawsFrom(seed + n));
    const network = compileNetwork(tangle);
    const bias = solveBias(network);
    const outcome = bias.ok ? bias.point.method : 'refused';
    counts[outcome] = (counts[outcome] ?? 0) + 1;
    if (bias.ok) {
      expect(bias.point.kirchhoffRatio).toBeLessThanOrEqual(1);
      continue;
    }
    const names = [...tangle.parts.map(({ ref }) => ref), ...network.nodes.keys()];
    expect(
      names.some((name) => bias.diagnostic.message.includes(name)),
      bias.diagnostic.message,
    ).toBe(true);
  }
  console.log(`1,500 random tangles: ${JSON.stringify(counts)}`);
  for (const { method } of attempts) expect(counts[method], method).toBeGreaterThan(0);
  // Nonsense may be refused, but hardly ever is.
  expect(counts.refused).toBeLessThan(15);
});

it('a bias that is known is found again in a few steps after a part has changed a little', () => {
  for (let n = 0; n < 50; n++) {
    const { circuit: stage } = randomStage(drawsFrom(seed + n));
    const changed = {
      ...stage,
      parts: stage.parts.map((part, i) =>
        part.kind === 'resistor' && i % 3 === 0 ? { ...part, ohms: part.ohms * 1.01 } : part,
      ),
    };
    const anew = biased(changed).point;
    const again = solveBias(compileNetwork(changed), biased(stage).point);
    if (!again.ok) throw new Error(again.diagnostic.message);
    expect(again.point.steps).toBeLessThanOrEqual(Math.min(anew.steps, 8));
    // As above: what 1e-12 A may leave at a collector.
    anew.x.forEach((value, i) => {
      expect(Math.abs(value - again.point.x[i]!)).toBeLessThan(1e-5);
    });
  }
});

describe('known hard cases', () => {
  const silicon: DiodeType = { kind: 'diode', VF: [{ value: 0.65, at: 1e-3 }] };

  it('a string of forty diodes on 350 V', () => {
    const string = Array.from({ length: 40 }, (_, i) =>
      typed(`D${i}`, silicon, { anode: i === 0 ? 'out' : `d${i}`, cathode: i === 39 ? 'gnd' : `d${i + 1}` }),
    );
    const stage = circuit([rail('ht', 350)], [resistor('R1', 22e3, 'ht', 'out'), ...string]);
    const { network, point } = biased(stage);
    expect(worstKirchhoff(stage, network, point)).toBeLessThanOrEqual(1);
    // Forty equal drops.
    expect(nodeVolts(network, point, 'out') / nodeVolts(network, point, 'd39')).toBeCloseTo(40, 6);
  });

  it('a valve at 300 V with its grid driven positive', () => {
    const type: TriodeType = { kind: 'triode', mu: 100, rp: 62.5e3, at: { Va: 250, Ia: 1.2e-3 } };
    const stage = circuit(
      [rail('ht', 300)],
      [
        resistor('R1', 100e3, 'ht', 'out'),
        resistor('R2', 1e6, 'ht', 'g'),
        typed('V1', type, { anode: 'out', grid: 'g', cathode: 'gnd' }),
      ],
    );
    const { network, point } = biased(stage);
    expect(worstKirchhoff(stage, network, point)).toBeLessThanOrEqual(1);
    // Grid current through 1 MΩ holds the grid within a volt or so of its cathode.
    expect(nodeVolts(network, point, 'g')).toBeGreaterThan(0);
    expect(nodeVolts(network, point, 'g')).toBeLessThan(2);
  });

  it('a bistable pair of transistors: one of its three solutions, which may be the unstable one between', () => {
    const npn = { kind: 'npn', hFE: [{ value: 200, at: 0 }], VBE: { value: 0.65, at: 1e-3 } } as const;
    const stage = circuit(
      [rail('vcc', 12)],
      [
        resistor('R1', 1e3, 'vcc', 'c1'),
        resistor('R2', 1.1e3, 'vcc', 'out'),
        resistor('R3', 22e3, 'c1', 'b2'),
        resistor('R4', 22e3, 'out', 'b1'),
        typed('Q1', npn, { collector: 'c1', base: 'b1', emitter: 'gnd' }),
        typed('Q2', npn, { collector: 'out', base: 'b2', emitter: 'gnd' }),
      ],
    );
    const { network, point } = biased(stage);
    expect(worstKirchhoff(stage, network, point)).toBeLessThanOrEqual(1);
  });

  it('two transistors that hold each other on across a supply', () => {
    const npn = { kind: 'npn', hFE: [{ value: 100, at: 0 }], VBE: { value: 0.65, at: 1e-3 } } as const;
    const stage = circuit(
      [rail('vcc', 24)],
      [
        resistor('R1', 470, 'vcc', 'a'),
        resistor('R2', 10e3, 'a', 'out'),
        resistor('R3', 10e3, 'b', 'gnd'),
        typed('Q1', { ...npn, kind: 'pnp' }, { emitter: 'a', base: 'out', collector: 'b' }),
        typed('Q2', npn, { emitter: 'gnd', base: 'b', collector: 'out' }),
      ],
    );
    const { network, point } = biased(stage);
    expect(worstKirchhoff(stage, network, point)).toBeLessThanOrEqual(1);
  });

  it('a diode the wrong way from the supply straight to gnd is found or refused by name', () => {
    const stage = circuit(
      [rail('vcc', 24)],
      [
        resistor('R1', 1e3, 'vcc', 'out'),
        resistor('R2', 1e3, 'out', 'gnd'),
        typed('D1', silicon, { anode: 'vcc', cathode: 'gnd' }),
      ],
    );
    const network = compileNetwork(stage);
    const bias = solveBias(network);
    if (bias.ok) expect(nodeVolts(network, bias.point, 'out')).toBeCloseTo(12, 9);
    else expect(bias.diagnostic.message).toMatch(/vcc|D1/);
  });
});
