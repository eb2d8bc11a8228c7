import { isList, isText, list, matching, oneOf, quantity, strict, type Field } from './fields.ts';
import type { BodySize, Seat } from './part-entry.ts';

const length = (description: string, example: string): Field<number> =>
  quantity('m', { description, examples: [example], positive: true });

const pitches: Field<readonly number[]> = oneOf<readonly number[]>(
  [
    { fits: isText, schema: length('Distance between the holes', '5 mm').transform((value) => [value]) },
    {
      fits: isList,
      schema: list(length('Distance between two holes', '5 mm'), {
        description: 'Distances between holes that fit',
        examples: ['[5 mm, 7.5 mm]'],
        least: 1,
      }),
    },
  ],
  { description: 'Distance between the holes, or a list of those that fit', examples: ['5 mm', '[5 mm, 7.5 mm]'] },
);

/** Lead letters in the order of the holes or of the case. */
export const leadOrder: Field<string> = matching(/^[A-Z]{2,8}$/, 'wrong-form', {
  description: 'Lead letters in order: E B C, D G S, A K, A G K',
  examples: ['ECB'],
});

export const seat: Field<Seat> = strict({
  holes: leadOrder.exactOptional(),
  pitch: pitches.exactOptional(),
  height: length('Room above the board', '12 mm').exactOptional(),
  diameter: length('Room for the diameter', '8 mm').exactOptional(),
}).meta({ description: 'The holes and the room on the board' });

export const body: Field<BodySize> = strict({
  pitch: length('Distance between the leads', '5 mm').exactOptional(),
  height: length('Height', '9 mm').exactOptional(),
  diameter: length('Diameter, or the longer side', '8 mm').exactOptional(),
}).meta({ description: 'The size of the part' });
