import type { Part } from './circuit.ts';
import type { Fault } from './fault.ts';
import { leadsOf, twoLeads } from './leads.ts';
import { leadsBeyond, type DrawnLead } from './leads-beyond.ts';
import type { FaultName, PulledEntry } from './schema/swap-schema.ts';
import type { Refuse } from './supply.ts';

export interface StatedFault {
  /** The key that says where it is, or what. */
  readonly key: keyof PulledEntry;
  readonly fault: Fault;
}

/** The faults that the keys of a pulled part spell out, in the order of the file; whether the part can have them is not asked here. */
export function statedFaults(
  part: Part,
  entry: PulledEntry,
  drawing: readonly DrawnLead[],
  refuse: Refuse,
): readonly StatedFault[] {
  const { faults = [], ICBO, contact } = entry;
  const lead = entry.lead ?? usualLead(part);
  const named = [...new Set(faults)].flatMap((name): StatedFault[] => {
    switch (name) {
      case 'open_circuit':
        return [{ key: 'faults', fault: { kind: 'open' } }];
      case 'short_circuit':
        return [{ key: 'faults', fault: { kind: 'short' } }];
      case 'wiper_open':
        return [{ key: 'faults', fault: { kind: 'wiper_open' } }];
      case 'junction_open':
      case 'junction_short':
        if (entry.junction !== undefined) return [{ key: 'junction', fault: { kind: name, junction: entry.junction } }];
        refuse(
          'fit-mismatch',
          'faults',
          `${name} of ${part.ref} does not say which one; write junction: base_emitter beside it`,
        );
        return [];
      case 'open_joint':
        return lead === undefined ? [] : [{ key: 'lead', fault: { kind: 'open_joint', lead } }];
      case 'cracked_track': {
        if (lead === undefined) return [];
        const beyond = leadsBeyond(part, lead, entry.beyond ?? [], drawing, refuse);
        return [{ key: 'lead', fault: { kind: 'cracked_track', lead, beyond } }];
      }
      case 'dried':
      case 'leaky':
      case 'noisy':
      case 'intermittent':
        return [];
    }
  });
  if (ICBO !== undefined) named.push({ key: 'ICBO', fault: { kind: 'leaky_transistor', ICBO } });
  if (contact !== undefined && lead !== undefined) {
    named.push({ key: 'lead', fault: { kind: 'contact', lead, ohms: contact } });
  }
  refuseHalfSaid(part, entry, lead, refuse);
  return named;
}

/** A fault without its lead, and keys that say where without a fault that would be there. */
function refuseHalfSaid(part: Part, entry: PulledEntry, lead: string | undefined, refuse: Refuse): void {
  const has = (...names: readonly FaultName[]): boolean => names.some((name) => entry.faults?.includes(name));
  const atLead = entry.contact !== undefined || has('open_joint', 'cracked_track');
  if (atLead && lead === undefined) {
    const names = Object.keys(leadsOf(part)).join(', ');
    const key = entry.contact === undefined ? 'faults' : 'contact';
    refuse('fit-mismatch', key, `which lead of ${part.ref} is not said; write lead: and one of ${names} beside it`);
  }
  const places = [
    ['lead', atLead, 'faults: [open_joint], or contact: 30 Ω'],
    ['beyond', has('cracked_track'), 'faults: [cracked_track]'],
    ['junction', has('junction_open', 'junction_short'), 'faults: [junction_open]'],
  ] as const;
  for (const [key, used, offer] of places) {
    if (entry[key] === undefined || used) continue;
    refuse(
      'fit-mismatch',
      key,
      `${key} says where ${part.ref} is at fault, and not what is wrong; write ${offer} beside it`,
    );
  }
}

/** The lead that is meant where the job names none: in a part with two leads it makes no difference. */
function usualLead(part: Part): string | undefined {
  if (part.kind === 'switch') return 'pole';
  if (part.kind === 'trimmer' && part.wiper !== undefined) return 'wiper';
  return twoLeads(part) === null ? undefined : Object.keys(leadsOf(part))[0];
}
