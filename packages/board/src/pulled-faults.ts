import type { Part } from './circuit.ts';
import type { Diagnostic } from './diagnostics.ts';
import { faultMismatch } from './fault-mismatch.ts';
import type { Fault } from './fault.ts';
import type { DrawnLead } from './leads-beyond.ts';
import type { PulledEntry } from './schema/swap-schema.ts';
import { statedFaults } from './stated-faults.ts';
import type { Refuse } from './supply.ts';
import type { SwapPart } from './swap-part.ts';

/** In which order one fault can be laid over another: what comes off, what is in series, what is joined, what is left of the part. */
const order: readonly Fault['kind'][] = [
  'cracked_track',
  'open_joint',
  'junction_open',
  'contact',
  'leaky_transistor',
  'junction_short',
  'wiper_open',
  'short',
  'open',
];

/** After these the part is no longer what it was, so that a part has one of them at most. */
const lasting = new Map<string, string>([
  ['wiper_open', 'wiper_open'],
  ['short', 'short_circuit'],
  ['open', 'open_circuit'],
]);

/** What a job says is wrong with a pulled part, beside its figures; `part` is the part with those figures. */
export function pulledFaults(
  part: Part,
  pulled: SwapPart<PulledEntry>,
  drawing: readonly DrawnLead[],
): { readonly faults: readonly Fault[]; readonly diagnostics: readonly Diagnostic[] } {
  const diagnostics: Diagnostic[] = [];
  const refuse: Refuse = (code, key, message) => {
    diagnostics.push({ code, place: pulled.placeAt(key, 'value'), message });
  };
  const stated = statedFaults(part, pulled.entry, drawing, refuse);
  for (const { key, fault } of stated) {
    const mismatch = faultMismatch(part, fault);
    if (mismatch !== null) refuse('fit-mismatch', key, mismatch);
  }
  const ends = stated.flatMap(({ fault }) => lasting.get(fault.kind) ?? []);
  if (ends.length > 1)
    refuse('fit-mismatch', 'faults', `${part.ref} cannot be ${ends.join(' and ')} at once; write one of them`);
  const faults = stated.map(({ fault }) => fault);
  return { faults: faults.sort((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind)), diagnostics };
}
