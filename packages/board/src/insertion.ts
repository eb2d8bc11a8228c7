import type { NodeName, Part, TypedPart } from './circuit.ts';
import { orderFault } from './expand-typed.ts';
import { acrossNodes, leadLetter } from './leads.ts';
import type { Refuse } from './supply.ts';

/** How a part goes in, as a job writes it. */
export interface Insertion {
  /** The lead in each hole, left to right from the component side. */
  readonly inserted?: string;
  readonly reversed?: boolean;
}

/**
 * A part, on the nodes its position is drawn with, as the job puts it in; null once it is taken down why it cannot go in
 * so. `holes` is the board's own lead order of the position.
 */
export function asInserted(
  part: Part,
  { inserted: order, reversed: back }: Insertion,
  holes: string | undefined,
  refuse: Refuse,
): Part | null {
  const turned = order === undefined ? part : inHoles(part, holes, order, refuse);
  return turned === null || back !== true ? turned : reversed(turned, refuse);
}

/** Letter i of `order` names the lead in hole i, and hole i lies on the node of the lead that `holes` names there. */
function inHoles(part: Part, holes: string | undefined, order: string, refuse: Refuse): TypedPart | null {
  if (part.kind !== 'typed' || part.type.kind === 'opamp') {
    refuse('lead-order', 'inserted', 'this part has no lead order; leave inserted out');
    return null;
  }
  const leads = Object.keys(part.leads);
  if (holes === undefined) {
    const letters = leads.map(leadLetter).join('');
    const message = `the board does not say which hole takes which lead; write seat: { holes: ${letters} } there, in the order of its holes`;
    refuse('lead-order', 'inserted', message);
    return null;
  }
  const fault = orderFault(part.type.kind, order);
  if (fault !== null) {
    refuse('lead-order', 'inserted', fault);
    return null;
  }
  const nodeOfLetter = new Map(leads.map((lead) => [leadLetter(lead), part.leads[lead] ?? '']));
  const nodes = leads.map((lead): [string, NodeName] => {
    const hole = order.indexOf(leadLetter(lead));
    return [lead, nodeOfLetter.get(holes.charAt(hole)) ?? ''];
  });
  return { ...part, leads: Object.fromEntries(nodes), inserted: order };
}

function reversed(part: Part, refuse: Refuse): Part | null {
  if (part.kind === 'capacitor' && part.polarised) return acrossNodes(part, part.minus, part.plus);
  if (part.kind === 'typed' && (part.type.kind === 'diode' || part.type.kind === 'zener')) {
    const { anode = '', cathode = '' } = part.leads;
    return acrossNodes(part, cathode, anode);
  }
  refuse('fit-mismatch', 'reversed', 'this part has no polarity to reverse; leave reversed out');
  return null;
}
