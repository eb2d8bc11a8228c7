import type { Circuit, NodeName, Part } from '@curvewright/board';
import { realLu } from '@curvewright/solver';

/** What an ohmmeter finds between two nodes of a board without power. */
export interface ColdResistance {
  readonly ohms: number;
  /** d ln(ohms)/d ln(value) of each resistor that takes part. */
  readonly shares: ReadonlyMap<string, number>;
}

/** S from every node to gnd: what a dusty board leaks, so that no node hangs in the air. An order of magnitude, no source. */
const boardSiemens = 1e-11;

/** Ω of a link, a closed contact and wire. */
const linkOhms = 1e-3;

/**
 * With the supplies, the source and the load unplugged, all capacitors charged, and a test voltage that no junction conducts at (0.2 V and less): what is left
 * are resistors, windings, trimmers, closed contacts, leakages, and the channels of field-effect transistors, which conduct at 0 V of gate.
 */
export function coldResistances(
  circuit: Circuit,
  pairs: readonly (readonly [NodeName, NodeName])[],
): readonly ColdResistance[] {
  const links = circuit.parts.flatMap(linksOf);
  const names = [...new Set(links.flatMap(({ between }) => between))].filter((node) => node !== 'gnd');
  const place = new Map(names.map((node, n) => [node, n]));
  const size = names.length;
  const lu = realLu(size);
  const add = (row: number | undefined, column: number | undefined, siemens: number): void => {
    if (row !== undefined && column !== undefined)
      lu.matrix[row * size + column] = lu.matrix[row * size + column]! + siemens;
  };
  for (let n = 0; n < size; n++) add(n, n, boardSiemens);
  for (const { between, ohms } of links) {
    const [a, b] = between.map((node) => place.get(node));
    add(a, a, 1 / ohms);
    add(b, b, 1 / ohms);
    add(a, b, -1 / ohms);
    add(b, a, -1 / ohms);
  }
  lu.factor();
  return pairs.map(([from, to]) => {
    const volts = new Float64Array(size);
    const [a, b] = [place.get(from), place.get(to)];
    const known = (node: NodeName): boolean => node === 'gnd' || place.has(node);
    if (!known(from) || !known(to)) return { ohms: 1 / boardSiemens, shares: new Map() };
    if (a !== undefined) volts[a] = 1;
    if (b !== undefined) volts[b] = volts[b]! - 1;
    lu.solve(volts);
    const at = (node: NodeName): number => (place.has(node) ? volts[place.get(node)!]! : 0);
    const ohms = at(from) - at(to);
    const shares = new Map<string, number>();
    for (const { ref, between, ohms: own } of links) {
      const amps = (at(between[0]) - at(between[1])) / own;
      if (ohms > 0) shares.set(ref, (shares.get(ref) ?? 0) + (amps ** 2 * own) / ohms);
    }
    return { ohms, shares };
  });
}

interface Link {
  readonly ref: string;
  readonly between: readonly [NodeName, NodeName];
  readonly ohms: number;
}

function linksOf(part: Part): readonly Link[] {
  const { ref } = part;
  const link = (between: readonly [NodeName, NodeName], ohms: number): Link => ({
    ref,
    between,
    ohms: Math.max(ohms, linkOhms),
  });
  switch (part.kind) {
    case 'resistor':
    case 'inductor':
      return [link(part.between, part.ohms)];
    case 'trimmer':
      return part.wiper === undefined
        ? [link(part.between, part.ohms * part.turn)]
        : [
            link([part.between[0], part.wiper], part.ohms * part.turn),
            link([part.wiper, part.between[1]], part.ohms * (1 - part.turn)),
          ];
    case 'capacitor':
      return part.leakage === undefined ? [] : [link([part.plus, part.minus], part.leakage)];
    case 'switch': {
      const joined = part.positions[part.at];
      return joined === undefined ? [] : [link([part.pole, joined], 0)];
    }
    case 'typed': {
      const { type, leads } = part;
      if (type.kind !== 'jfet-n' && type.kind !== 'jfet-p') return [];
      // dID/dVDS at VGS = 0 and VDS = 0 of the square law is 2·IDSS/VGS(off).
      return [link([leads.drain ?? 'gnd', leads.source ?? 'gnd'], type.pinchOff / (2 * type.IDSS))];
    }
  }
}
