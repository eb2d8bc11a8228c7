import { spelledNode, type Circuit, type Diagnostic, type NodeName, type Part, type Place } from '@curvewright/board';
import { contacts, dcPaths, zeroOhmLinks, type Contact } from './leads.ts';
import { createSets } from './node-sets.ts';
import { contradiction } from '@curvewright/devices';

/**
 * Looks for what no bias can be computed for, before anything is solved: a node that a single lead touches, a node with
 * no DC path to gnd, a loop of rails and zero-ohm links, a type whose figures no part can have. Every finding names node and part and stands at a part's place.
 */
export function inspectCircuit(circuit: Circuit): readonly Diagnostic[] {
  const floating = floatingNodes(circuit);
  const known = new Set(floating.map(({ node }) => node));
  return [
    ...floating.map(({ diagnostic }) => diagnostic),
    ...nodesWithoutDcPath(circuit, known),
    ...loopsOfRails(circuit),
    ...contradictoryTypes(circuit),
  ];
}

/** Reported once for each type, at the first part that uses it. */
function contradictoryTypes(circuit: Circuit): Diagnostic[] {
  const seen = new Set<string>();
  return circuit.parts.flatMap((part) => {
    if (part.kind !== 'typed' || seen.has(part.typeName)) return [];
    seen.add(part.typeName);
    const wrong = contradiction(part.type);
    return wrong === null
      ? []
      : [{ code: wrong.code, place: part.place, message: `${part.typeName}: ${wrong.message}` }];
  });
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
    const message = `node ${spelledNode(node)} is touched only by ${part.ref} (${contact.lead}); join it to another part, or correct the node's name`;
    open.push({ node, diagnostic: { code: 'floating-node', place: part.place, message } });
  }
  return open;
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
      const message = `node ${spelledNode(node)} (at ${part.ref} ${lead}) has no DC path to gnd, so its voltage is not defined; ${remedy}`;
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
    const message = `${what} closes a loop without resistance between ${spelledNode(a)} and ${spelledNode(b)}, so its current is not defined; give one part of the loop its resistance, or take one out`;
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
