import { printQuantity } from '@curvewright/quantity';
import type { Part } from './circuit.ts';
import { twoLeads } from './leads.ts';

/** A part in a few words, as a bench would say it: `0.68 µF tantalum`, `HN-A`, `wire link`. */
export function describePart(part: Part): string {
  switch (part.kind) {
    case 'resistor':
      return part.ohms === 0 ? 'wire link' : words(printQuantity(part.ohms, 'Ω'), part.build);
    case 'capacitor': {
      const extras = [
        ...(part.esr === undefined ? [] : [`ESR ${printQuantity(part.esr, 'Ω')}`]),
        ...(part.leakage === undefined ? [] : [`leakage ${printQuantity(part.leakage, 'Ω')}`]),
      ];
      return [words(printQuantity(part.farads, 'F'), part.build), ...extras].join(', ');
    }
    case 'inductor':
      return printQuantity(part.henries, 'H');
    case 'trimmer':
      return `${printQuantity(part.ohms, 'Ω')} at ${printQuantity(part.turn, '%')}`;
    case 'switch':
      return `at ${part.at}`;
    case 'typed':
      return part.typeName;
  }
}

/** What stands in one position: nothing, one part, parts in series (`+`) or side by side (`∥`). */
export function describeParts(parts: readonly Part[]): string {
  const ends = parts.map((part) => JSON.stringify(twoLeads(part)));
  const joint = ends.every((each) => each === ends[0]) ? ' ∥ ' : ' + ';
  return parts.length === 0 ? 'nothing' : parts.map(describePart).join(joint);
}

function words(value: string, build: string | undefined): string {
  return build === undefined ? value : `${value} ${build.replaceAll('_', ' ')}`;
}
