import type { Circuit, NodeName, Part } from './circuit.ts';
import type { LeadPlace } from './fault.ts';
import { leadsOf } from './leads.ts';
import { suggestion } from './nearest.ts';
import { shown } from './schema/fields.ts';
import type { Refuse } from './supply.ts';

/** A lead of the drawing and the node it stands on. */
export interface DrawnLead extends LeadPlace {
  readonly node: NodeName;
}

export function drawnLeads(circuit: Circuit): readonly DrawnLead[] {
  return circuit.parts.flatMap((part) =>
    Object.entries(leadsOf(part)).map(([lead, node]) => ({ position: part.position, lead, node })),
  );
}

/** The leads, written as `REF.lead`, that a crack cuts off together with one lead of a part; each must stand on the same node. */
export function leadsBeyond(
  part: Part,
  lead: string,
  written: readonly string[],
  drawing: readonly DrawnLead[],
  refuse: Refuse,
): readonly LeadPlace[] {
  const pad = Object.hasOwn(leadsOf(part), lead) ? leadsOf(part)[lead] : undefined;
  const named = new Map(drawing.map((each) => [`${each.position}.${each.lead}`, each]));
  return written.flatMap((name) => {
    const there = named.get(name);
    if (there === undefined) {
      refuse('unknown-node', 'beyond', `${shown(name)} is no lead of the board; ${suggestion(name, named.keys())}`);
      return [];
    }
    if (pad !== undefined && there.node !== pad) {
      const neighbours = [...named].filter(([, { node }]) => node === pad).map(([each]) => each);
      const offer = `write leads of that node: ${neighbours.join(', ')}`;
      refuse('fit-mismatch', 'beyond', `${name} stands on ${there.node}, and ${part.ref}.${lead} on ${pad}; ${offer}`);
    }
    return [{ position: there.position, lead: there.lead }];
  });
}
