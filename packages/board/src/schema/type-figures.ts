import type { z } from 'zod';
import type { CaseForm, CaseLeads, Ratings } from '../part-type.ts';
import { choice, isList, isMap, isText, list, oneOf, quantity, strict, type Field } from './fields.ts';
import { leadOrder } from './size-schema.ts';

/** The order of a case's leads; `front` where only the order is written. */
export const caseLeads: Field<CaseLeads> = oneOf<CaseLeads>(
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

/** The orders of every case that goes by one type, at least one. */
const casesOfType: Field<readonly CaseLeads[]> = oneOf<readonly CaseLeads[]>(
  [
    {
      fits: isList,
      schema: list(caseLeads, {
        description: 'One order for each shape of case that goes by this type',
        examples: ['[ECB, BCE]'],
        least: 1,
      }),
    },
    { fits: (input) => isText(input) || isMap(input), schema: caseLeads.transform((only) => [only]) },
  ],
  {
    description: 'Lead letters seen from the front; a list where one type comes in several cases',
    examples: ['ECB', '{ order: ECB, view: below_flat_up }', '[ECB, BCE]'],
  },
);

/** How the case holds its leads. */
export const caseForm: Field<CaseForm> = choice(['in_line', 'metal_can', 'power'], {
  description:
    'Leads in a line (silent: so), in a circle below a metal can, or a power case with its metal on one of them',
});

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
  readonly case_leads: Optional<readonly CaseLeads[]>;
  readonly case: Optional<CaseForm>;
} = {
  Ptot: rating('W', 'Rated power at 25 °C', '300 mW'),
  case_leads: casesOfType.exactOptional(),
  case: caseForm.exactOptional(),
};

/** The case under the names that types give it. */
export function casedAs(
  leads: readonly CaseLeads[] | undefined,
  form: CaseForm | undefined,
): Pick<Ratings, 'caseLeads' | 'otherCases' | 'caseForm'> {
  const [first, ...others] = leads ?? [];
  return {
    ...(first === undefined ? {} : { caseLeads: first }),
    ...(others.length === 0 ? {} : { otherCases: others }),
    ...(form === undefined ? {} : { caseForm: form }),
  };
}
