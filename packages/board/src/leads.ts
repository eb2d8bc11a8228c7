import type { NodeName, Part } from './circuit.ts';

/**
 * A part's leads by name, in the order the file writes them. Parts drawn `between` two nodes call their leads `1` and
 * `2`; a switch has its pole and one lead for each of its positions.
 */
export function leadsOf(part: Part): Readonly<Record<string, NodeName>> {
  switch (part.kind) {
    case 'resistor':
    case 'inductor':
      return { '1': part.between[0], '2': part.between[1] };
    case 'trimmer':
      return {
        '1': part.between[0],
        '2': part.between[1],
        ...(part.wiper === undefined ? {} : { wiper: part.wiper }),
      };
    case 'capacitor':
      return part.polarised ? { plus: part.plus, minus: part.minus } : { '1': part.plus, '2': part.minus };
    case 'switch':
      return { pole: part.pole, ...part.positions };
    case 'typed':
      return part.leads;
  }
}

/** The nodes of a part with exactly two leads, first the anode or plus side (or `between[0]`); null for any other part. */
export function twoLeads(part: Part): readonly [NodeName, NodeName] | null {
  if (part.kind === 'typed') {
    const { anode, cathode } = part.leads;
    return part.type.kind === 'diode' || part.type.kind === 'zener' ? [anode ?? '', cathode ?? ''] : null;
  }
  if (part.kind === 'switch') return null;
  const [first, second, ...others] = Object.values(leadsOf(part));
  return first !== undefined && second !== undefined && others.length === 0 ? [first, second] : null;
}

/** The same two-lead part between two other nodes; throws on a part with any other number of leads. */
export function acrossNodes<P extends Part>(part: P, first: NodeName, second: NodeName): P {
  switch (part.kind) {
    case 'resistor':
    case 'inductor':
    case 'trimmer':
      return { ...part, between: [first, second] };
    case 'capacitor':
      return { ...part, plus: first, minus: second };
    case 'typed':
      return { ...part, leads: { anode: first, cathode: second } };
    case 'switch':
      throw new TypeError(`${part.ref} has more than two leads`);
  }
}

/** The node of one of a part's leads; throws where it has no such lead. */
export function nodeOfLead(part: Part, lead: string): NodeName {
  const node = Object.hasOwn(leadsOf(part), lead) ? leadsOf(part)[lead] : undefined;
  if (node === undefined) throw new RangeError(`${part.ref} has no lead ${lead}`);
  return node;
}

/** The part with one of its leads on another node. */
export function withLeadOn(part: Part, lead: string, node: NodeName): Part {
  switch (part.kind) {
    case 'resistor':
    case 'inductor':
      return { ...part, between: ends(part.between, lead, node) };
    case 'trimmer':
      return lead === 'wiper' ? { ...part, wiper: node } : { ...part, between: ends(part.between, lead, node) };
    case 'capacitor':
      return lead === 'plus' || lead === '1' ? { ...part, plus: node } : { ...part, minus: node };
    case 'switch':
      return lead === 'pole' ? { ...part, pole: node } : { ...part, positions: { ...part.positions, [lead]: node } };
    case 'typed':
      return { ...part, leads: { ...part.leads, [lead]: node } };
  }
}

function ends(between: readonly [NodeName, NodeName], lead: string, node: NodeName): readonly [NodeName, NodeName] {
  return lead === '1' ? [node, between[1]] : [between[0], node];
}

/** The letter a lead order writes for a lead: the first of its name, K for a cathode. */
export function leadLetter(lead: string): string {
  return lead === 'cathode' ? 'K' : lead.charAt(0).toUpperCase();
}
