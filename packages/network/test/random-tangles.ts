import type { Circuit, Part } from '@curvewright/board';
import { circuit, rail, resistor, typed } from './circuits.ts';
import type { Draws } from './random.ts';
import { someBipolar, someDiode, someJfet } from './random-types.ts';

/**
 * What nobody would build: 3 to 12 diodes, zeners, transistors, JFETs, triodes and op-amps with limits anyhow among resistors, on supplies
 * of up to ±350 V. Positive feedback, latches and junctions across a supply are common in these.
 */
export function randomTangle(draws: Draws): Circuit {
  const nodes = ['in', ...Array.from({ length: draws.whole(4, 14) }, (_, i) => `n${i}`), 'out'];
  const all = ['gnd', 'vcc', 'vee', ...nodes];
  const parts: Part[] = nodes.map((node, i) =>
    resistor(`R${i}`, draws.log(100, 1e7), node, draws.pick(all.slice(0, i + 3))),
  );
  for (let count = draws.whole(2, 8); count > 0; count--) {
    const a = draws.pick(nodes);
    const b = draws.pick(all.filter((node) => node !== a));
    parts.push(resistor(`R${50 + count}`, draws.log(100, 1e6), a, b));
  }
  for (let count = draws.whole(3, 12); count > 0; count--) parts.push(anyPart(draws, `X${count}`, nodes, all));
  const volts = draws.log(5, 350);
  const rails = [rail('vcc', volts, draws.pick([0, 10])), rail('vee', -draws.pick([volts, 12]), draws.pick([0, 10]))];
  return circuit(rails, parts);
}

function anyPart(draws: Draws, ref: string, nodes: readonly string[], all: readonly string[]): Part {
  const taken = new Set<string>();
  const take = (from: readonly string[]): string => {
    const node = draws.pick(from.filter((candidate) => !taken.has(candidate)));
    taken.add(node);
    return node;
  };
  const kinds = ['diode', 'zener', 'npn', 'npn', 'pnp', 'pnp', 'jfet-n', 'jfet-p', 'triode', 'opamp'] as const;
  const kind = draws.pick(kinds);
  switch (kind) {
    case 'diode':
      return typed(ref, someDiode(draws), { cathode: take(nodes), anode: take(all) });
    case 'zener': {
      const slope = draws.chance(0.5) ? { rz: 10 } : {};
      const type = { kind, VZ: { value: draws.log(3, 50), at: 5e-3 }, ...slope };
      return typed(ref, type, { cathode: take(nodes), anode: take(all) });
    }
    case 'npn':
    case 'pnp':
      return typed(ref, someBipolar(draws, kind), { base: take(nodes), collector: take(all), emitter: take(all) });
    case 'jfet-n':
    case 'jfet-p':
      return typed(ref, someJfet(draws, kind), { gate: take(nodes), drain: take(all), source: take(all) });
    case 'triode': {
      const type = { kind, mu: 100, rp: 62.5e3, at: { Va: 250, Ia: 1.2e-3 } };
      return typed(ref, type, { grid: take(nodes), anode: take(all), cathode: take(all) });
    }
    case 'opamp': {
      const type = { kind, gain: draws.log(1e3, 1e6), Rout: 50, swing: { above: 1, below: 1 } };
      const leads = { out: take(nodes.slice(1)), plus: take(nodes), minus: take(nodes) };
      return typed(ref, type, leads, ['vcc', 'vee']);
    }
  }
}
