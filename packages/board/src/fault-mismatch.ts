import type { Part } from './circuit.ts';
import { junctionsOf, type Fault } from './fault.ts';
import { leadsOf, twoLeads } from './leads.ts';
import { kindInWords } from './piece-keys.ts';

/** Why a part cannot have a fault, and what to write; null where it can. */
export function faultMismatch(part: Part, fault: Fault): string | null {
  switch (fault.kind) {
    case 'open':
      return null;
    case 'short':
      return twoLeads(part) === null
        ? `short_circuit does not say which leads of ${part.ref} are joined (${leadNames(part)}); write open_circuit${shortOf(part)}`
        : null;
    case 'dried':
    case 'leaky':
      return part.kind === 'capacitor'
        ? null
        : `${part.ref} is ${kindInWords(part)}; only a capacitor is ${fault.kind}`;
    case 'drifted':
      return part.kind === 'typed' || part.kind === 'switch' ? `${part.ref} has no value that drifts` : null;
    case 'leaky_transistor':
    case 'low_hFE':
    case 'noisy':
      return isBipolar(part)
        ? null
        : `${part.ref} is ${kindInWords(part)}; only a bipolar transistor has ICBO, hFE or noise of its base current`;
    case 'junction_open':
      return junctionMismatch(part, fault.junction, 'open');
    case 'junction_short':
      return junctionMismatch(part, fault.junction, 'short');
    case 'open_joint':
    case 'contact':
    case 'cracked_track':
      return Object.hasOwn(leadsOf(part), fault.lead)
        ? null
        : `${part.ref} has no lead ${fault.lead}; write one of ${leadNames(part)}`;
    case 'wiper_open':
      return part.kind === 'trimmer' ? null : `${part.ref} is ${kindInWords(part)}; only a trimmer has a wiper`;
  }
}

function junctionMismatch(part: Part, junction: string, fault: 'open' | 'short'): string | null {
  const known = part.kind === 'typed' ? junctionsOf(part.type.kind, fault) : [];
  if (known.some((name) => name === junction)) return null;
  return known.length === 0
    ? `${part.ref} is ${kindInWords(part)}, which has no junction between two of three leads; write open_circuit or short_circuit`
    : `${junction} of ${part.ref} cannot be ${fault}; write one of ${known.join(', ')}`;
}

function shortOf(part: Part): string {
  const [first] = part.kind === 'typed' ? junctionsOf(part.type.kind, 'short') : [];
  return first === undefined ? ', or leave the fault out' : `, or faults: [junction_short] with junction: ${first}`;
}

function leadNames(part: Part): string {
  return Object.keys(leadsOf(part)).join(', ');
}

export function isBipolar(part: Part): boolean {
  return part.kind === 'typed' && (part.type.kind === 'npn' || part.type.kind === 'pnp');
}
