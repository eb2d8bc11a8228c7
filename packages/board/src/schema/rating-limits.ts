import type { z } from 'zod';
import { plainNumber, quantity, strict, type Field } from './fields.ts';

/** How far ratings are used: a part is good where its rating is at least so many times what it has to bear. */
export interface RatingLimits {
  /** Times the steady voltage of an electrolytic, polarised or not. */
  readonly aluminium: number;
  readonly tantalum: number;
  /** Times, for a tantalum with less than `stiff` (Ω per volt) between it and a rail. */
  readonly tantalum_at_rail: number;
  readonly stiff: number;
  readonly film: number;
  readonly ceramic: number;
  /** Times the highest voltage of a capacitor on the way up, whatever its build. */
  readonly switch_on: number;
  readonly VCEO: number;
  readonly VEBO: number;
  readonly IC: number;
  /** Times the power, of what the rating still is at the ambient temperature. */
  readonly Ptot: number;
  /** °C of the junction at which nothing is left of Ptot. */
  readonly junction: number;
  /** Times the power of a resistor. */
  readonly watts: number;
  readonly ripple_current: number;
  /** V the wrong way round that a polarised capacitor may stand for good. */
  readonly reverse: number;
  /** V the wrong way round that an aluminium, and a tantalum, may see on the way up. */
  readonly reverse_aluminium: number;
  readonly reverse_tantalum: number;
}

/** Common practice of the trade, no source. */
export const defaultRatings: RatingLimits = {
  aluminium: 1.25,
  tantalum: 2,
  tantalum_at_rail: 3,
  stiff: 3,
  film: 1,
  ceramic: 1,
  switch_on: 1,
  VCEO: 1,
  VEBO: 1,
  IC: 1,
  Ptot: 1,
  junction: 150,
  watts: 1,
  ripple_current: 1,
  reverse: 0.1,
  reverse_aluminium: 1,
  reverse_tantalum: 0.5,
};

type Patch = z.ZodExactOptional<Field<number>>;

const times = (what: string, example: string): Patch =>
  plainNumber({
    description: `The rating is at least so many times ${what}`,
    examples: [example],
    positive: true,
  }).exactOptional();

const backwards = (what: string, example: string): Patch =>
  quantity('V', { description: what, examples: [example], notNegative: true }).exactOptional();

/** `ratings:` under `limits:`. */
export const ratingLimits: Field<Partial<RatingLimits>> = strict({
  aluminium: times('the steady voltage of an electrolytic', '1.25'),
  tantalum: times('the steady voltage of a tantalum', '2'),
  tantalum_at_rail: times('the steady voltage of a tantalum near a rail', '3'),
  stiff: plainNumber({
    description: 'Ω for each volt; with less between it and a rail, a tantalum is near it',
    examples: ['3'],
    notNegative: true,
  }).exactOptional(),
  film: times('the steady voltage of a film, polystyrene or mica capacitor', '1'),
  ceramic: times('the steady voltage of a ceramic capacitor', '1'),
  switch_on: times('the highest voltage of a capacitor on the way up', '1'),
  VCEO: times('the highest collector-emitter voltage', '1'),
  VEBO: times('the highest reverse voltage of base and emitter', '1'),
  IC: times('the collector current', '1'),
  Ptot: times('the power of a semiconductor', '1'),
  junction: quantity('°C', {
    description: 'Junction temperature at which nothing is left of Ptot',
    examples: ['150 °C'],
  }).exactOptional(),
  watts: times('the power of a resistor', '1'),
  ripple_current: times('the ripple current', '1'),
  reverse: backwards('What a polarised capacitor may stand for good the wrong way round', '0.1 V'),
  reverse_aluminium: backwards('What an aluminium capacitor may see the wrong way round on the way up', '1 V'),
  reverse_tantalum: backwards('What a tantalum may see the wrong way round on the way up', '0.5 V'),
});
