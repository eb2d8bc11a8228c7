import { twoLeads, type Part } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { mainValue, printValue } from '../part-value.ts';

/** A part as a shop sells it: `22 µF aluminium, 25 V, 20 %`; what was read on one piece is not told. */
export function soldWords(part: Part): string {
  if (part.kind === 'typed') return part.typeName;
  const value = mainValue(part);
  const { rated, tolerance } = part;
  const what = [
    value === null ? part.kind : value === 0 ? 'wire link' : printValue(part, value),
    ...('build' in part && part.build !== undefined ? [part.build.replaceAll('_', ' ')] : []),
  ].join(' ');
  return [
    what,
    ...(rated === undefined ? [] : [printQuantity(rated, part.kind === 'capacitor' ? 'V' : 'W')]),
    ...(tolerance === undefined ? [] : [toleranceWords(tolerance)]),
  ].join(', ');
}

function toleranceWords({ minus, plus }: NonNullable<Part['tolerance']>): string {
  return minus === plus
    ? `±${printQuantity(plus, '%')}`
    : `−${printQuantity(minus, '%').replace(' %', '')}/+${printQuantity(plus, '%')}`;
}

/** What stands in one position, in series (`+`, first at the anode or plus side) or side by side (`∥`). */
export function allSoldWords(parts: readonly Part[]): string {
  const ends = parts.map((part) => JSON.stringify(twoLeads(part)));
  const joint = ends.every((each) => each === ends[0]) ? ' ∥ ' : ' + ';
  return parts.length === 0 ? 'nothing' : parts.map(soldWords).join(joint);
}
