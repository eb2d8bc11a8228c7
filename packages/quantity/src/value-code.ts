import type { Unit } from './units.ts';

/** What each letter of a value code stands for, by kind (IEC 60062, clause "letter and digit code"; H by the same habit). */
const letters: Readonly<Partial<Record<Unit, Readonly<Record<string, string>>>>> = {
  // No milli: a bench's 1m on a resistor is as likely to mean 1 MΩ.
  Ω: { R: 'ohm', k: 'kohm', K: 'kohm', M: 'Mohm', G: 'Gohm' },
  F: { p: 'pF', n: 'nF', µ: 'uF', u: 'uF', m: 'mF', F: 'F' },
  H: { n: 'nH', µ: 'uH', u: 'uH', m: 'mH' },
};

/** A code taken apart: a decimal number of a prefixed unit. */
export interface ValueCode {
  readonly decimal: string;
  readonly expression: string;
}

/**
 * Reads `4k7`, `R47`, `100n`, `µ33`, `0u33`, `47K3` for a resistor, capacitor or inductor, and `4.7k` with them; the
 * letter stands for the decimal point. Undefined where the text is no code of that kind.
 */
export function readValueCode(text: string, unit: Unit): ValueCode | undefined {
  const match = /^(\d*)(?:\.(\d+))?([A-Za-zµ])(\d*)$/.exec(text);
  if (!match) return undefined;
  const [, whole = '', decimals = '', letter = '', after = ''] = match;
  const expression = letters[unit]?.[letter];
  const twoPoints = decimals !== '' && after !== '';
  if (expression === undefined || twoPoints || whole + decimals + after === '') return undefined;
  return { decimal: `${whole || '0'}.${decimals || after || '0'}`, expression };
}

/** The unit for which the text would be a code, or undefined. */
export function codeOfAnotherKind(text: string): Unit | undefined {
  return (['Ω', 'F', 'H'] as const).find((unit) => readValueCode(text, unit));
}

/**
 * The value a bare three-digit marking stands for, two digits and a count of zeros: `104` in pF on a capacitor, in µH
 * on an inductor, in Ω on a resistor, where a fourth digit may stand before the zeros. Undefined for other numbers.
 */
export function markingValue(text: string, unit: Unit): number | undefined {
  const smallest = ({ Ω: 0, F: -12, H: -6 } as Partial<Record<Unit, number>>)[unit];
  const match = (unit === 'Ω' ? /^([1-9]\d{1,2})([0-6])$/ : /^([1-9]\d)([0-6])$/).exec(text);
  return match && smallest !== undefined ? Number(`${match[1]}e${Number(match[2]) + smallest}`) : undefined;
}
