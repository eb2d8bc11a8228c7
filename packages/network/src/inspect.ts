import type { Circuit, Diagnostic, NodeName, Part, Place } from '@curvewright/board';

/**
 * Looks for what no bias can be computed for, before anything is solved: a node that a single lead touches, a node with
 * no DC path to gnd, a loop of rails and zero-ohm links. Every finding names node and part and stands at a part's place.
 */
export function inspectCircuit(circuit: Circuit): readonly Diagnostic[] {
  const floating = floatingNodes(circuit);
  const known = new Set(floating.map(({ node }) => node));
  return [
    ...floating.map(({ diagnostic }) => diagnostic),
    ...nodesWithoutDcPath(circuit, known),
    ...loopsOfRails(circuit),
  ];
}

interface Contact {
  readonly lead: string;
  readonly node: NodeName;
}

function contacts(part: Part): readonly Contact[] {
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
function dcPaths(part: Part): readonly (readonly [NodeName, NodeName])[] {
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

function floatingNodes(circuit: Circuit): { node: NodeName; diagnostic: Diagnostic }[] {
  const touched = new Map<NodeName, { part: Part; contact: Contact; count: number }>();
  for (const part of circuit.parts) {
    for (const contact of contacts(part)) {
      const entry = touched.get(contact.node);
      if (entry) entry.count++;
      else touched.set(contact.node, { part, contact, count: 1 });
    }
  }
  const ends = new Set(['gnd', ...circuit.rails.map((rail) => rail.node)]);
  for (const channel of circuit.channels) {
    ends.add(channel.input);
    ends.add(channel.output);
  }
  const open: { node: NodeName; diagnostic: Diagnostic }[] = [];
  for (const [node, { part, contact, count }] of touched) {
    if (count > 1 || ends.has(node) || (part.kind === 'switch' && contact.lead !== 'pole')) continue;
    const message = `node ${node} is touched only by ${part.ref} (${contact.lead}); join it to another part, or correct the node's name`;
    open.push({ node, diagnostic: { code: 'floating-node', place: part.place, message } });
  }
  return open;
}

/** Joins sets of nodes (disjoint sets with path halving: Tarjan 1975). */
function createSets(): { find(node: NodeName): NodeName; join(a: NodeName, b: NodeName): boolean } {
  const parent = new Map<NodeName, NodeName>();
  const find = (node: NodeName): NodeName => {
    let at = node;
    for (;;) {
      const up = parent.get(at) ?? at;
      if (up === at) return at;
      const above = parent.get(up) ?? up;
      parent.set(at, above);
      at = above;
    }
  };
  return {
    find,
    join(a, b) {
      const [rootA, rootB] = [find(a), find(b)];
      if (rootA === rootB) return false;
      parent.set(rootA, rootB);
      return true;
    },
  };
}

function nodesWithoutDcPath(circuit: Circuit, reported: ReadonlySet<NodeName>): Diagnostic[] {
  const sets = createSets();
  for (const rail of circuit.rails) sets.join(rail.node, 'gnd');
  for (const channel of circuit.channels) {
    sets.join(channel.input, 'gnd');
    if (channel.load.resistance !== undefined) sets.join(channel.output, 'gnd');
  }
  for (const part of circuit.parts) for (const [a, b] of dcPaths(part)) sets.join(a, b);

  const diagnostics: Diagnostic[] = [];
  const seen = new Set<NodeName>(reported);
  const outputs = new Set(circuit.channels.map((channel) => channel.output));
  for (const part of circuit.parts) {
    for (const { lead, node } of contacts(part)) {
      if (seen.has(node) || sets.find(node) === sets.find('gnd')) continue;
      if (part.kind === 'switch' && lead !== 'pole') continue;
      seen.add(node);
      const remedy = outputs.has(node)
        ? 'write the load under output: load: { resistance: … }, or add the resistor to gnd that the board has there'
        : 'add the resistor that sets its voltage, or correct the node names of the parts around it';
      const message = `node ${node} (at ${part.ref} ${lead}) has no DC path to gnd, so its voltage is not defined; ${remedy}`;
      diagnostics.push({ code: 'no-dc-path', place: part.place, message });
    }
  }
  return diagnostics;
}

function loopsOfRails(circuit: Circuit): Diagnostic[] {
  const sets = createSets();
  const diagnostics: Diagnostic[] = [];
  const join = (what: string, a: NodeName, b: NodeName, place: Place): void => {
    if (sets.join(a, b)) return;
    const message = `${what} closes a loop without resistance between ${a} and ${b}, so its current is not defined; give one part of the loop its resistance, or take one out`;
    diagnostics.push({ code: 'rail-loop', place, message });
  };
  for (const channel of circuit.channels) sets.join(channel.input, 'gnd');
  for (const rail of circuit.rails) {
    if (rail.resistance === 0) join(`rail ${rail.node}`, rail.node, 'gnd', rail.place);
  }
  for (const part of circuit.parts) {
    for (const [a, b] of zeroOhmLinks(part)) join(part.ref, a, b, part.place);
  }
  return diagnostics;
}

/** Links that join two nodes without resistance; a link from a node to itself (a wiper on its own end) is none. */
function zeroOhmLinks(part: Part): readonly (readonly [NodeName, NodeName])[] {
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
