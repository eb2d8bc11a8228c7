import type { z } from 'zod';
import type { Ratings } from '../part-type.ts';
import { choice, isMap, isText, oneOf, quantity, strict, type Field } from './fields.ts';
import { leadOrder } from './size-schema.ts';

/** The order of a case's leads; `front` where only the order is written. */
export const caseLeads: Field<NonNullable<Ratings['caseLeads']>> = oneOf<NonNullable<Ratings['caseLeads']>>(
  [
    { fits: isText, schema: leadOrder.transform((order) => ({ order, view: 'front' as const })) },
    {
      fits: isMap,
      schema: strict({
        order: leadOrder,
        view: choice(['front', 'below_flat_up', 'below_flat_down'], {
          description: 'From where: from the front with the leads down, or from below',
        }),
      }),
    },
  ],
  {
    description: 'Lead letters seen from the front, flat towards the reader and leads down',
    examples: ['ECB', '{ order: ECB, view: below_flat_up }'],
  },
);

/** A figure that may be silent. */
export type Optional<T> = z.ZodExactOptional<Field<T>>;

/** The fields below differ in unit and words only; every one of them may be silent but for the kind. */
export const kind = <const K extends string>(name: K): Field<K> => choice([name], { description: 'Kind of part' });
export const farads = (description: string, example: string): Optional<number> =>
  quantity('F', { description, examples: [example], notNegative: true }).exactOptional();
export const ohms = (description: string, example: string): Optional<number> =>
  quantity('Ω', { description, examples: [example], notNegative: true }).exactOptional();
export const corner = (description: string): Optional<number> =>
  quantity('Hz', { description, examples: ['300 Hz'], notNegative: true }).exactOptional();
export const noiseVoltage: Optional<number> = quantity('V/√Hz', {
  description: 'Noise voltage referred to the input',
  examples: ['4 nV/√Hz'],
  notNegative: true,
}).exactOptional();
export const rating = (unit: 'V' | 'A' | 'W', description: string, example: string): Optional<number> =>
  quantity(unit, { description, examples: [example], positive: true }).exactOptional();
/** Stated in dB, read as a ratio of voltages. */
export const ratio = (description: string, example: string): Optional<number> =>
  quantity('dB', { description, examples: [example], positive: true })
    .transform((decibels) => 10 ** (decibels / 20))
    .exactOptional();

/** What a type of any kind may state. */
export const caseAndPower: {
  readonly Ptot: Optional<number>;
  readonly case_leads: Optional<NonNullable<Ratings['caseLeads']>>;
} = {
  Ptot: rating('W', 'Rated power', '300 mW'),
  case_leads: caseLeads.exactOptional(),
};

/** The case's leads under the name that types give them. */
export function casedAs(leads: Ratings['caseLeads']): Pick<Ratings, 'caseLeads'> {
  return leads === undefined ? {} : { caseLeads: leads };
}
