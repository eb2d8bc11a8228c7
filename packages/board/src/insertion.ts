import type { NodeName, Part, TypedPart } from './circuit.ts';
import { acrossNodes, leadLetter } from './leads.ts';

/** The part as it stands on the board, or one line that says why it cannot stand so. */
export type Insertion<P extends Part = Part> =
  | { readonly ok: true; readonly part: P }
  | { readonly ok: false; readonly message: string };

/**
 * A part whose leads stand in the board's holes in another order: letter i of `inserted` names the lead in hole i, and
 * hole i lies on the node of the lead that `holes` (the board's own order) names there. The part comes on its drawn nodes.
 */
export function inserted(part: TypedPart, holes: string | undefined, order: string): Insertion<TypedPart> {
  const leads = Object.keys(part.leads);
  const letters = leads.map(leadLetter);
  if (part.type.kind === 'opamp') {
    return { ok: false, message: `${part.ref} is an op-amp, which has no lead order; leave inserted out` };
  }
  if (holes === undefined) {
    return {
      ok: false,
      message: `the board does not say which hole takes which lead of ${part.position}; write seat: { holes: ${letters.join('')} } there`,
    };
  }
  for (const [what, text] of [
    ['seat.holes', holes],
    ['inserted', order],
  ] as const) {
    if (!samePieces([...text.toUpperCase()], letters)) {
      return {
        ok: false,
        message: `${what} of ${part.position} reads ${text}; write each of ${letters.join(', ')} once`,
      };
    }
  }
  const nodeOfLetter = new Map(leads.map((lead) => [leadLetter(lead), part.leads[lead] ?? '']));
  const nodeOfHole = [...holes.toUpperCase()].map((letter) => nodeOfLetter.get(letter) ?? '');
  const swapped: Record<string, NodeName> = {};
  for (const lead of leads) {
    swapped[lead] = nodeOfHole[order.toUpperCase().indexOf(leadLetter(lead))] ?? '';
  }
  return { ok: true, part: { ...part, leads: swapped } };
}

/** A polarised capacitor, diode or zener the wrong way round. */
export function reversed(part: Part): Insertion {
  if (part.kind === 'capacitor' && part.polarised) return { ok: true, part: acrossNodes(part, part.minus, part.plus) };
  if (part.kind === 'typed' && (part.type.kind === 'diode' || part.type.kind === 'zener')) {
    const { anode = '', cathode = '' } = part.leads;
    return { ok: true, part: acrossNodes(part, cathode, anode) };
  }
  return { ok: false, message: `${part.ref} has no polarity to reverse; leave reversed out` };
}

function samePieces(found: readonly string[], wanted: readonly string[]): boolean {
  return found.length === wanted.length && wanted.every((piece) => found.includes(piece));
}
