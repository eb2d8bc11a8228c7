import { leadsOf, type Circuit, type Part } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { bareName } from './node-volts.ts';

/** Ω, F or H; null for a part without a value. */
export function mainValue(part: Part): number | null {
  switch (part.kind) {
    case 'resistor':
    case 'trimmer':
      return part.ohms;
    case 'capacitor':
      return part.farads;
    case 'inductor':
      return part.henries;
    case 'switch':
    case 'typed':
      return null;
  }
}

/** `22 µF`, `4.7 kΩ`: a main value in the part's own unit. */
export function printValue(part: Part, value: number): string {
  if (part.kind === 'capacitor') return printQuantity(value, 'F');
  return printQuantity(value, part.kind === 'inductor' ? 'H' : 'Ω');
}

/** The part's value, its type, or failing both its kind. */
export function valueText(part: Part): string {
  const value = mainValue(part);
  if (value !== null) return printValue(part, value);
  return part.kind === 'typed' ? part.typeName : part.kind;
}

/** The parts that stand between the same nodes of the other channels with the same value: the part's twins. */
export function twinsOf(circuit: Circuit, part: Part): readonly Part[] {
  if (part.channel === null) return [];
  const seat = seatOf(part);
  return circuit.parts.filter(
    (other) =>
      other.channel !== null &&
      other.channel !== part.channel &&
      seatOf(other) === seat &&
      valueText(other) === valueText(part),
  );
}

function seatOf(part: Part): string {
  const leads = Object.entries(leadsOf(part)).map(([lead, node]) => `${lead} ${bareName(node)}`);
  return [part.kind, ...leads].join(', ');
}
