import { readQuantity } from '@curvewright/quantity';
import { field, figureAt, isMap, isText, oneOf, quantity, shown, type Field } from './fields.ts';
import type { Leakage } from './part-entry.ts';

/** Ω, or Ω stated at a frequency. */
export const esr: Field<{ readonly value: number; readonly at?: number }> = oneOf<{ value: number; at?: number }>(
  [
    {
      fits: isText,
      schema: quantity('Ω', {
        description: 'Equivalent series resistance',
        examples: ['4 Ω'],
        notNegative: true,
      }).transform((value) => ({ value })),
    },
    {
      fits: isMap,
      schema: figureAt('Ω', 'Hz', {
        description: 'Equivalent series resistance at a frequency',
        examples: ['4 Ω'],
        notNegative: true,
        at: { description: 'Frequency of the reading', examples: ['100 kHz'] },
      }),
    },
  ],
  { description: 'Equivalent series resistance', examples: ['4 Ω', '{ value: 4 Ω, at: 100 kHz }'] },
);

/** Alternating current that a capacitor is rated for. */
export const rippleCurrent: Field<number> = quantity('A', {
  description: 'Rated ripple current, rms',
  examples: ['200 mA'],
  positive: true,
});

/** A resistance, or a current at the rated volts. */
export const leakage: Field<Leakage> = field<Leakage>(
  {
    type: 'string',
    description: 'Resistance across the leads, or current at the rated volts [Ω or A]',
    examples: ['20 MΩ', '0.5 µA'],
  },
  (input) => {
    if (typeof input === 'object') return { code: 'wrong-form', message: 'needs one value; write 20 MΩ or 0.5 µA' };
    const ohms = readQuantity(input, 'Ω');
    const reading = !ohms.ok && ohms.fault === 'wrong-unit' ? readQuantity(input, 'A') : ohms;
    if (!reading.ok) return { code: reading.fault, message: reading.message };
    if (reading.value <= 0)
      return {
        code: 'out-of-range',
        message: `${shown(input)} cannot be; write a value above 0, or leave the key out`,
      };
    return { value: ohms.ok ? { ohms: reading.value } : { amps: reading.value } };
  },
);

/** The leakage in Ω; null where a current is stated and the rated volts are not. */
export function leakageOhms(stated: Leakage, ratedVolts: number | undefined): number | null {
  if ('ohms' in stated) return stated.ohms;
  return ratedVolts === undefined ? null : ratedVolts / stated.amps;
}
