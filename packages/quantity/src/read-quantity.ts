import { valueInUnit } from './arithmetic.ts';
import { bareNumber, commaDecimal, notAQuantity, outOfRange, unknownUnit, wrongUnit } from './hints.ts';
import { type Reading, longestText, nameOf } from './reading.ts';
import { type Unit, findUnit, normalise } from './units.ts';
import { readValueCode } from './value-code.ts';

/**
 * Reads a quantity as the bench writes it: `4.7 kΩ`, `0.68 µF`, `20V`, or for Ω, F and H an IEC 60062 code (`4k7`,
 * `100n`). The value is in the unit without prefix: metres for lengths, fractions for `%`, degrees for `°C` (see
 * kelvin), the plain number for `dB`. Signs are read; whether a negative value makes sense is the caller's to say.
 */
export function readQuantity(text: unknown, unit: Unit): Reading {
  if (typeof text === 'number')
    return Number.isFinite(text) ? bareNumber(String(text), unit) : outOfRange(String(text), unit);
  if (typeof text !== 'string') return notAQuantity(nameOf(text), unit);
  if (text.length > longestText) return notAQuantity(text, unit);
  const plain = normalise(text);
  if (/^[+-]?(?:\.?nan|\.?inf|infinity|∞)(?![a-z])/i.test(plain)) return outOfRange(text, unit);
  if (/^[+-]?[\d.]*,\d/.test(plain)) return commaDecimal(plain, unit);
  const code = readValueCode(plain, unit);
  if (code) return converted(code.decimal, code.expression, text, unit);
  const match = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([^\d.\s+-].*)?$/s.exec(plain);
  if (!match) return notAQuantity(text, unit);
  const [, number = '', writtenUnit] = match;
  if (writtenUnit === undefined) return bareNumber(number, unit);
  const found = findUnit(writtenUnit);
  if (found?.unit === unit) return converted(number, found.expression, text, unit);
  return found === undefined
    ? unknownUnit(plain, number, writtenUnit, unit)
    : wrongUnit(plain, number, writtenUnit, found.unit, unit);
}

/** Kelvin from degrees Celsius. */
export function kelvin(celsius: number): number {
  return celsius + 273.15;
}

function converted(decimal: string, expression: string, text: string, unit: Unit): Reading {
  const value = valueInUnit(decimal, expression, unit);
  const vanished = value === 0 && /[1-9]/.test(decimal.replace(/e.*/i, ''));
  return Number.isFinite(value) && !vanished ? { ok: true, value } : outOfRange(text, unit);
}
