import { valueInUnit } from './arithmetic.ts';
import { bareNumber, commaDecimal } from './hints.ts';
import { type Reading, fault, longestText, nameOf, quote } from './reading.ts';
import { normalise } from './units.ts';

/** Fractions of the value, both positive: −20/+80 % is { minus: 0.2, plus: 0.8 }. */
export interface Tolerance {
  readonly minus: number;
  readonly plus: number;
}

/** Percent below and above for each letter of IEC 60062. (Below 10 pF a letter means pF; write those in percent.) */
const letters: Readonly<Record<string, readonly [minus: number, plus: number]>> = {
  E: [0.005, 0.005],
  L: [0.01, 0.01],
  P: [0.02, 0.02],
  W: [0.05, 0.05],
  B: [0.1, 0.1],
  C: [0.25, 0.25],
  D: [0.5, 0.5],
  F: [1, 1],
  G: [2, 2],
  H: [3, 3],
  J: [5, 5],
  K: [10, 10],
  M: [20, 20],
  N: [30, 30],
  Q: [10, 30],
  T: [10, 50],
  S: [20, 50],
  Z: [20, 80],
};

/** Reads `5 %`, `±5 %`, `-20/+80 %` (in either order) or an IEC 60062 letter. */
export function readTolerance(text: unknown): Reading<Tolerance> {
  if (typeof text === 'number') return Number.isFinite(text) ? bareNumber(String(text), '%') : outOfRange(String(text));
  if (typeof text !== 'string') return notATolerance(nameOf(text));
  if (text.length > longestText) return notATolerance(quote(text));
  const plain = normalise(text).replace(/\+\/-/g, '±');
  const letter = Object.hasOwn(letters, plain) ? letters[plain] : undefined;
  if (letter) return { ok: true, value: { minus: percent(String(letter[0])), plus: percent(String(letter[1])) } };
  if (/^[±+-]*\d+,\d/.test(plain)) return commaDecimal(plain, '%');
  const bare = /^±?\s*(\d+\.?\d*|\.\d+)$/.exec(plain);
  if (bare) return bareNumber(bare[1] ?? '', '%');
  const both = /^±?\s*(\d+\.?\d*|\.\d+)\s*%$/.exec(plain);
  if (both) return within(both[1] ?? '', both[1] ?? '', text);
  const apart = /^([+-]?)(\d+\.?\d*|\.\d+)\s*%?(?:\/|\s)([+-]?)(\d+\.?\d*|\.\d+)\s*(%?)$/.exec(plain);
  if (apart) return sides(apart, text);
  if (/^[+-]\s*[\d.]+\s*%$/.test(plain)) {
    return fault('not-a-quantity', `${quote(plain)} is one side only; write both, for example -20/+80 %`);
  }
  const other = /^[±+-]*\s*[\d.]+\s*([^\d.\s].*)$/s.exec(plain);
  if (other) return fault('wrong-unit', `${quote(plain)} is not in percent; write for example 5 %`);
  return notATolerance(quote(text));
}

/** Two sides: each with its own sign, where a zero needs none. */
function sides(match: RegExpExecArray, text: string): Reading<Tolerance> {
  const [, firstSign = '', first = '', secondSign = '', second = '', unit = ''] = match;
  if (unit === '') return fault('bare-number', `${quote(text)} has no unit; write ${quote(text)} %`);
  const firstIsMinus = firstSign === '-' || (firstSign === '' && Number(first) === 0 && secondSign === '+');
  const secondIsMinus = secondSign === '-' || (secondSign === '' && Number(second) === 0 && firstSign === '+');
  const signed = (firstSign !== '' || Number(first) === 0) && (secondSign !== '' || Number(second) === 0);
  if (!signed || firstIsMinus === secondIsMinus) return notATolerance(quote(text));
  return firstIsMinus ? within(first, second, text) : within(second, first, text);
}

function within(minus: string, plus: string, text: string): Reading<Tolerance> {
  const value = { minus: percent(minus), plus: percent(plus) };
  return value.minus <= 1 && Number.isFinite(value.plus) ? { ok: true, value } : outOfRange(text);
}

function percent(decimal: string): number {
  return valueInUnit(decimal, 'benchPercent', '%');
}

function outOfRange(text: string): Reading<never> {
  return fault('out-of-range', `${quote(text)} is no tolerance a part can have; write for example 5 % or -20/+80 %`);
}

function notATolerance(what: string): Reading<never> {
  return fault('not-a-quantity', `${what} is no tolerance; write for example 5 %, -20/+80 % or an IEC 60062 letter`);
}
