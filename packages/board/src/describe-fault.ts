import { printQuantity, type Unit } from '@curvewright/quantity';
import type { Part } from './circuit.ts';
import type { Fault } from './fault.ts';

/** A fault in a few words, as they stand behind the part it is in: `open circuit`, `ICBO 10 µA`, `joint of base open`. */
export function describeFault(part: Part, fault: Fault): string {
  switch (fault.kind) {
    case 'open':
      return 'open circuit';
    case 'short':
      return 'short circuit';
    case 'dried':
      return `dried to ${printQuantity(fault.value, 'F')}, ESR ${printQuantity(fault.esr, 'Ω')}`;
    case 'leaky':
      return `leakage ${printQuantity(fault.ohms, 'Ω')}`;
    case 'drifted':
      return `drifted to ${printQuantity(fault.value, unitOf(part))}`;
    case 'leaky_transistor':
      return `ICBO ${printQuantity(fault.ICBO, 'A')}`;
    case 'low_hFE':
      return `hFE ${fault.hFE}`;
    case 'noisy':
      return `1/f noise up to ${printQuantity(fault.corner, 'Hz')}`;
    case 'junction_open':
      return `${fault.junction.replace('_', '-')} junction open`;
    case 'junction_short':
      return `${fault.junction.replace('_', '-')} short`;
    case 'open_joint':
      return `joint of ${leadWords(fault.lead)} open`;
    case 'contact':
      return `${printQuantity(fault.ohms, 'Ω')} in the contact of ${leadWords(fault.lead)}`;
    case 'cracked_track':
      return `track cracked at ${leadWords(fault.lead)}`;
    case 'wiper_open':
      return 'wiper open';
  }
}

function unitOf(part: Part): Unit {
  if (part.kind === 'capacitor') return 'F';
  return part.kind === 'inductor' ? 'H' : 'Ω';
}

function leadWords(lead: string): string {
  return /^\d$/.test(lead) ? `lead ${lead}` : lead;
}
