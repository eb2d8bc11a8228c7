import type { Part } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { bears, ofPart, type FitRow } from './fit-row.ts';

/** m by which a pitch may differ without the leads being formed: half of what holes and leads have to spare, common practice, no source. */
const pitchSlack = 0.3e-3;

/** The size of a part against the room of its place, as far as the board states it. Only a fitted part has to state its size. */
export function seatRows(part: Part): readonly FitRow[] {
  const { seat, body } = part;
  if (seat === undefined) return [];
  const asked = (['pitch', 'height', 'diameter'] as const).filter((side) => seat[side] !== undefined);
  if (asked.length === 0) return [];
  if (body === undefined || asked.every((side) => body[side] === undefined)) {
    return part.fitted === true ? [unknownSize(part, asked)] : [];
  }
  return [
    ...(['height', 'diameter'] as const).flatMap((side) => {
      const [room, size] = [seat[side], body[side]];
      return room === undefined || size === undefined ? [] : [roomRow(part, side, size, room)];
    }),
    // A member of a string or of a pair hangs on its fellows, not in both holes.
    ...(seat.pitch !== undefined && body.pitch !== undefined && part.ref === part.position
      ? [pitchRow(part, body.pitch, seat.pitch)]
      : []),
  ];
}

function unknownSize(part: Part, asked: readonly string[]): FitRow {
  const { height, diameter, pitch } = part.seat ?? {};
  return {
    ...{ what: 'seat', ...ofPart(part), level: 'not measured', where: 'size' },
    ...{ value: 1000 * (height ?? diameter ?? pitch?.[0] ?? NaN), margin: NaN, unit: 'mm', bound: 'no size' },
    cause: `the board states ${listed(asked)} for ${part.ref}, and the file no size of what is fitted`,
    next: `measure it and write body: { ${asked.map((side) => `${side}: …`).join(', ')} } at ${part.position}`,
  };
}

const tooBig = { height: 'too tall', diameter: 'too wide' } as const;

function roomRow(part: Part, where: 'height' | 'diameter', size: number, room: number): FitRow {
  const good = bears(room, size);
  const sizes = `${printQuantity(size, 'm')} in the ${printQuantity(room, 'm')} that its place has`;
  const over = `${tooBig[where]} by ${printQuantity(size - room, 'm', 2)}`;
  return {
    ...{ what: 'seat', ...ofPart(part), level: good ? 'good' : 'fail', where },
    ...{ value: size * 1000, margin: (room - size) * 1000, unit: 'mm', bound: `${printQuantity(room, 'm')} of room` },
    cause: `${part.ref}: ${good ? sizes : `${over}, ${sizes}`}`,
    next: good ? 'nothing' : `choose a ${where === 'height' ? 'lower' : 'slimmer'} part for ${part.position}`,
  };
}

function pitchRow(part: Part, own: number, pairs: readonly number[]): FitRow {
  const nearest = pairs.toSorted((a, b) => Math.abs(a - own) - Math.abs(b - own))[0] ?? own;
  const off = Math.abs(nearest - own);
  const good = bears(pitchSlack, off);
  const form = `form both leads by ${printQuantity(off / 2, 'm')} ${nearest > own ? 'outwards' : 'inwards'}`;
  const pitches = `leads ${printQuantity(own, 'm')} apart, holes ${listed(
    pairs.map((each) => printQuantity(each, 'm')),
    'or',
  )}`;
  return {
    ...{ what: 'seat', ...ofPart(part), level: good ? 'good' : 'look', where: 'pitch' },
    ...{ value: own * 1000, margin: (pitchSlack - off) * 1000, unit: 'mm' },
    bound: `${printQuantity(nearest, 'm')} between the holes`,
    cause: `${part.ref}: ${pitches}`,
    next: good ? 'nothing' : `${form} at ${part.position}, without stress where they leave the body`,
  };
}

function listed(words: readonly string[], last: 'and' | 'or' = 'and'): string {
  return [words.slice(0, -1).join(', '), words.at(-1) ?? ''].filter((each) => each !== '').join(` ${last} `);
}
