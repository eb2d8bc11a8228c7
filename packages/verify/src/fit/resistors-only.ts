import type { Capacitor, Circuit, Part } from '@curvewright/board';
import { compileNetwork, idealSource, nodeVolts, solveBias } from '@curvewright/network';

/** What lies between two nodes of a board whose active parts are out and whose capacitors are charged. */
interface Path {
  readonly between: readonly [string, string];
  readonly ohms: number;
}

/** Ω from every node to gnd where nothing else holds it: what flux and a dusty surface leak, common practice, no source. */
const surface = 100e9;

/** V across every capacitor once the active parts are out and resistors alone lead to it, by designator. */
export function voltsWithoutActiveParts(circuit: Circuit): ReadonlyMap<string, number> {
  const capacitors = circuit.parts.filter((part) => part.kind === 'capacitor');
  const passive = circuit.parts.filter((part) => part.kind !== 'typed' && part.kind !== 'capacitor');
  const nodes = new Set(capacitors.flatMap(({ plus, minus }) => [plus, minus]));
  for (const path of passive.flatMap(pathsOf)) for (const node of path.between) nodes.add(node);
  for (const { input, output } of circuit.channels) nodes.add(input).add(output);
  nodes.delete('gnd');
  const place = { file: '', line: 1, column: 1 };
  const leaks = [...nodes].map((node): Part => {
    const ref = `surface ${node}`;
    return { kind: 'resistor', ref, position: ref, channel: null, place, ohms: surface, between: [node, 'gnd'] };
  });
  const network = compileNetwork({ ...circuit, parts: [...passive, ...leaks] }, idealSource);
  const bias = solveBias(network);
  if (!bias.ok) return new Map();
  const volts = (node: string): number => nodeVolts(network, bias.point, node);
  return new Map(capacitors.map(({ ref, plus, minus }) => [ref, Math.abs(volts(plus) - volts(minus))]));
}

/** The least Ω of resistors in the loop from a rail through the capacitor to gnd or another rail; Infinity where there is none. */
export function ohmsInRailLoop(circuit: Circuit, { plus, minus }: Capacitor): number {
  const rails = circuit.rails.map(({ node }) => node);
  const held = ['gnd', ...rails];
  const paths = circuit.parts.flatMap(pathsOf);
  const [fromPlus, fromMinus] = [ohmsFrom(plus, paths), ohmsFrom(minus, paths)];
  let least = Infinity;
  for (const one of held) {
    for (const other of held) {
      if (one === other) continue;
      least = Math.min(least, (fromPlus.get(one) ?? Infinity) + (fromMinus.get(other) ?? Infinity));
    }
  }
  return least;
}

/** Dijkstra's shortest paths (E. W. Dijkstra, Numerische Mathematik 1, 1959), lengths being Ω. */
function ohmsFrom(start: string, paths: readonly Path[]): ReadonlyMap<string, number> {
  const known = new Map([[start, 0]]);
  const done = new Set<string>();
  for (;;) {
    const [next] = [...known].filter(([node]) => !done.has(node)).sort(([, a], [, b]) => a - b);
    if (next === undefined) return known;
    const [node, ohms] = next;
    done.add(node);
    for (const { between, ohms: more } of paths) {
      const [a, b] = between;
      if (a !== node && b !== node) continue;
      const other = a === node ? b : a;
      if (ohms + more < (known.get(other) ?? Infinity)) known.set(other, ohms + more);
    }
  }
}

function pathsOf(part: Part): readonly Path[] {
  switch (part.kind) {
    case 'resistor':
    case 'inductor':
      return [{ between: part.between, ohms: part.ohms }];
    case 'trimmer': {
      const [first, second] = part.between;
      const below = part.ohms * part.turn;
      return part.wiper === undefined
        ? [{ between: part.between, ohms: below }]
        : [
            { between: [first, part.wiper], ohms: below },
            { between: [part.wiper, second], ohms: part.ohms - below },
          ];
    }
    case 'switch': {
      const at = part.positions[part.at];
      return at === undefined ? [] : [{ between: [part.pole, at], ohms: 0 }];
    }
    case 'capacitor':
    case 'typed':
      return [];
  }
}
