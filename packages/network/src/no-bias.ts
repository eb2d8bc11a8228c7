import { spelledNode, type Diagnostic, type Place } from '@curvewright/board';
import type { Network } from './network.ts';
import { noRelief } from './equations.ts';
import type { UnknownName } from './elements.ts';
import type { Search } from './newton.ts';

/** Says which node or part keeps a search from settling, in the board's own names. */
export function diagnoseNoBias(search: Search): Diagnostic {
  const { network } = search.equations;
  search.reset();
  const end = search.run(noRelief, { steps: 40, looseness: 1 });
  if (end.kind === 'singular') {
    const name = network.names[end.column]!;
    const opAmp = network.amplifiers.find(({ drive, current }) => end.column === drive || end.column === current);
    if (opAmp) {
      const message = `no bias: no output voltage of ${opAmp.ref} makes its inputs equal; check its feedback, or give its type gain and its rails`;
      return { code: 'no-bias', place: placeOf(network, name), message };
    }
    const message = `no bias: ${describe(name)} is not held by anything; check the parts around it for a missing resistor or a wrong node name`;
    return { code: 'no-bias', place: placeOf(network, name), message };
  }
  const name = network.names[search.worstRow]!;
  const message = `no bias found: ${unsettled(search, name)}; check the lead order and values there, and the rails`;
  return { code: 'no-bias', place: placeOf(network, name), message };
}

/** A node's row sums currents, a part's own row voltages. */
function unsettled(search: Search, name: UnknownName): string {
  const left = search.equations.residual[search.worstRow]!.toExponential(1);
  switch (name.kind) {
    case 'node':
    case 'inner node': {
      const neighbours = partsAt(search);
      const around = neighbours.length > 0 ? ` (${neighbours.join(', ')})` : '';
      return `the currents at ${describe(name)}${around} do not add up (${left} A left over)`;
    }
    case 'current':
    case 'drive':
      return `the voltages round ${name.ref} do not add up (${left} V left over)`;
  }
}

/** An unknown in the words of a sentence: `node c1@left`, `the inside of Q101`. */
export function describe(name: UnknownName): string {
  switch (name.kind) {
    case 'node':
      return `node ${spelledNode(name.node)}`;
    case 'inner node':
      return `the inside of ${name.ref}`;
    case 'current':
      return `the current of ${name.ref}`;
    case 'drive':
      return `the output of ${name.ref}`;
  }
}

/** Devices and op-amps with a lead on the row's node; for other rows the part itself is already named. */
function partsAt(search: Search): readonly string[] {
  const { network } = search.equations;
  const row = search.worstRow;
  return [
    ...network.devices.filter(({ leads }) => leads.includes(row)).map(({ ref }) => ref),
    ...network.amplifiers.filter(({ plus, minus, out }) => [plus, minus, out].includes(row)).map(({ ref }) => ref),
  ];
}

function placeOf(network: Network, name: UnknownName): Place {
  const { circuit } = network;
  const part =
    name.kind === 'node'
      ? circuit.parts.find((candidate) => touches(candidate, name.node))
      : circuit.parts.find((candidate) => candidate.ref === name.ref);
  const rail = circuit.rails.find(({ node }) => (name.kind === 'node' ? node === name.node : node === name.ref));
  return part?.place ?? rail?.place ?? circuit.parts[0]?.place ?? { file: circuit.title, line: 1, column: 1 };
}

function touches(part: Network['circuit']['parts'][number], node: string): boolean {
  switch (part.kind) {
    case 'capacitor':
      return part.plus === node || part.minus === node;
    case 'typed':
      return Object.values(part.leads).includes(node);
    case 'switch':
      return part.pole === node || Object.values(part.positions).includes(node);
    default:
      return part.between.includes(node);
  }
}
