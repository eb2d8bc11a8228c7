import { describePart, type Job, type NewPosition, type Part } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import type { AddablePosition } from '../contract/sheet.ts';
import { partKind, partValue } from './part-value.ts';

/** Positions of which the job says nothing yet, in the board's order; twins together where both are free. */
export function addablePositions({ board, positions }: Job): readonly AddablePosition[] {
  const free = new Map(positions.flatMap(({ drawn, entry }) => (entry === undefined ? [[drawn.ref, drawn]] : [])));
  return board.positions.flatMap((twins) => {
    const groups = twins.every((ref) => free.has(ref)) ? [twins] : twins.map((ref) => [ref]);
    return groups.flatMap((refs): readonly AddablePosition[] => {
      const part = free.get(refs[0] ?? '');
      if (part === undefined) return [];
      const key = refs.join('/');
      return [{ key, refs, kind: partKind(part), drawn: describePart(part), entry: newRow(part) }];
    });
  });
}

/** As many digits as a drawing gives a value. */
const digits = 6;

/** The drawn part, new: what a new part does not take over by itself is written out. */
function newRow(part: Part): NewPosition {
  if (part.kind === 'typed') return { fit: { type: part.typeName } };
  if (part.kind === 'switch') return { fit: { at: part.at } };
  const main = partValue(part);
  const isRated = (part.kind === 'capacitor' || part.kind === 'resistor') && part.rated !== undefined;
  return {
    fit: {
      ...('build' in part && part.build !== undefined ? { build: part.build } : {}),
      ...(main === null ? {} : { value: printQuantity(main.value, main.unit, digits) }),
      ...(isRated ? { rated: printQuantity(part.rated, part.kind === 'capacitor' ? 'V' : 'W', digits) } : {}),
    },
  };
}
