import type { NodeName, Part } from '@curvewright/board';

/** A lead of a part and the node it stands on. */
export interface Contact {
  readonly lead: string;
  readonly node: NodeName;
}

export function contacts(part: Part): readonly Contact[] {
  switch (part.kind) {
    case 'resistor':
    case 'inductor':
      return part.between.map((node, i) => ({ lead: `lead ${i + 1}`, node }));
    case 'capacitor':
      return [
        { lead: 'plus', node: part.plus },
        { lead: 'minus', node: part.minus },
      ];
    case 'trimmer': {
      const ends = part.between.map((node, i) => ({ lead: `end ${i + 1}`, node }));
      return part.wiper === undefined ? ends : [...ends, { lead: 'wiper', node: part.wiper }];
    }
    case 'switch':
      return [
        { lead: 'pole', node: part.pole },
        ...Object.entries(part.positions).map(([lead, node]) => ({ lead, node })),
      ];
    case 'typed':
      return [
        ...Object.entries(part.leads).map(([lead, node]) => ({ lead, node })),
        ...(part.rails ?? []).map((node) => ({ lead: 'rail', node })),
      ];
  }
}

/** Pairs of nodes between which a direct current can flow of its own accord; control leads (base, gate, grid, inputs) give none. */
export function dcPaths(part: Part): readonly (readonly [NodeName, NodeName])[] {
  switch (part.kind) {
    case 'resistor':
    case 'inductor':
      return [part.between];
    case 'capacitor':
      return part.leakage === undefined ? [] : [[part.plus, part.minus]];
    case 'trimmer':
      if (part.wiper === undefined) return [part.between];
      return [
        [part.between[0], part.wiper],
        [part.wiper, part.between[1]],
      ];
    case 'switch': {
      const joined = part.positions[part.at];
      return joined === undefined ? [] : [[part.pole, joined]];
    }
    case 'typed':
      return typedDcPaths(part);
  }
}

function typedDcPaths(part: Part & { kind: 'typed' }): readonly (readonly [NodeName, NodeName])[] {
  const leads = (from: string, to: string): readonly (readonly [NodeName, NodeName])[] => {
    const [a, b] = [part.leads[from], part.leads[to]];
    return a === undefined || b === undefined ? [] : [[a, b]];
  };
  switch (part.type.kind) {
    case 'npn':
    case 'pnp':
      return leads('collector', 'emitter');
    case 'diode':
    case 'zener':
      return leads('anode', 'cathode');
    case 'jfet-n':
    case 'jfet-p':
      return leads('drain', 'source');
    case 'triode':
      return leads('anode', 'cathode');
    case 'opamp':
      return part.leads.out === undefined ? [] : [[part.leads.out, 'gnd']];
  }
}

/** Links that join two nodes without resistance; a link from a node to itself (a wiper on its own end) is none. */
export function zeroOhmLinks(part: Part): readonly (readonly [NodeName, NodeName])[] {
  return linksOf(part).filter(([a, b]) => a !== b);
}

function linksOf(part: Part): readonly (readonly [NodeName, NodeName])[] {
  switch (part.kind) {
    case 'resistor':
    case 'inductor':
      return part.ohms === 0 ? [part.between] : [];
    case 'capacitor':
      return part.leakage === 0 ? dcPaths(part) : [];
    case 'switch':
      return dcPaths(part);
    case 'trimmer': {
      const [toWiper, onward] = dcPaths(part);
      const links = part.ohms * part.turn === 0 && toWiper ? [toWiper] : [];
      return onward && part.ohms * (1 - part.turn) === 0 ? [...links, onward] : links;
    }
    case 'typed':
      return part.type.kind === 'opamp' && (part.type.Rout ?? 0) === 0 ? dcPaths(part) : [];
  }
}
