import type { Circuit, DiodeType, Part, PartType } from '@curvewright/board';
import { capacitor, circuit, inductor, rail, resistor, typed } from './circuits.ts';
import type { Draws } from './random.ts';
import { someBipolar, someJfet } from './random-types.ts';

/** RLC of no meaning between 2 to 6 nodes besides input and output: every node has a resistor towards an earlier one, so all have a DC path. */
export function randomPassive(draws: Draws): Circuit {
  return circuit([], passiveParts(draws, nodeNames(draws)));
}

/** The same with a supply, and one to three diodes, transistors or JFETs between any of the nodes. */
export function randomMixture(draws: Draws): Circuit {
  const nodes = nodeNames(draws);
  const parts = passiveParts(draws, nodes);
  const among = ['gnd', 'vcc', ...nodes];
  parts.push(resistor('R90', draws.log(1e3, 1e5), 'vcc', draws.pick(nodes)));
  parts.push(resistor('R91', draws.log(1e3, 1e5), 'vcc', draws.pick(nodes)));
  const count = draws.whole(1, 3);
  for (let i = 1; i <= count; i++) parts.push(typed(`X${i}`, ...somePart(draws, among)));
  return circuit([rail('vcc', draws.even(-30, 30), draws.pick([0, 1, 100]))], parts, { ambient: draws.even(273, 333) });
}

function nodeNames(draws: Draws): string[] {
  return ['in', ...Array.from({ length: draws.whole(2, 6) }, (_, i) => `n${i}`), 'out'];
}

function passiveParts(draws: Draws, nodes: readonly string[]): Part[] {
  const all = ['gnd', ...nodes];
  const parts: Part[] = nodes.map((node, i) =>
    resistor(`R${i}`, draws.log(10, 1e6), node, draws.pick(all.slice(0, i + 1))),
  );
  const pair = (): [string, string] => {
    const a = draws.pick(all);
    const b = draws.pick(all.filter((node) => node !== a));
    return [a, b];
  };
  const count = draws.whole(2, 8);
  for (let i = 0; i < count; i++) {
    const [a, b] = pair();
    const kind = draws.pick(['resistor', 'capacitor', 'capacitor', 'inductor'] as const);
    if (kind === 'resistor') parts.push(resistor(`R${20 + i}`, draws.log(10, 1e6), a, b));
    else if (kind === 'inductor') parts.push(inductor(`L${i}`, draws.log(1e-4, 1), draws.log(0.1, 1e3), a, b));
    else {
      const esr = draws.chance(0.3) ? { esr: draws.log(1e-2, 100) } : {};
      const loss = draws.chance(0.3) ? { loss: draws.log(1e-4, 0.2) } : {};
      const leakage = draws.chance(0.3) ? { leakage: draws.log(1e4, 1e9) } : {};
      parts.push(capacitor(`C${i}`, draws.log(1e-11, 1e-4), a, b, { ...esr, ...loss, ...leakage }));
    }
  }
  return parts;
}

function somePart(draws: Draws, nodes: readonly string[]): [PartType, Record<string, string>] {
  const leads = (...names: string[]): Record<string, string> => {
    const free = [...nodes];
    return Object.fromEntries(
      names.map((name) => {
        const node = draws.pick(free);
        free.splice(free.indexOf(node), 1);
        return [name, node];
      }),
    );
  };
  const kind = draws.pick(['diode', 'npn', 'pnp', 'jfet-n', 'jfet-p'] as const);
  if (kind === 'diode') {
    const diode: DiodeType = { kind, VF: [{ value: draws.even(0.55, 0.75), at: 1e-3 }], ideality: draws.even(1, 2) };
    return [diode, leads('anode', 'cathode')];
  }
  if (kind === 'npn' || kind === 'pnp') return [someBipolar(draws, kind), leads('collector', 'base', 'emitter')];
  return [someJfet(draws, kind), leads('drain', 'gate', 'source')];
}
