import { decimalOfUnit } from './arithmetic.ts';
import type { Unit } from './units.ts';

type PrefixFrom = readonly [prefix: string, from: number];

const engineering: readonly PrefixFrom[] = [
  ['', 1],
  ['m', 1e-3],
  ['µ', 1e-6],
  ['n', 1e-9],
  ['p', 0],
];

/** Prefixes with the value from which each is used, as bench and service sheets write them, largest first. */
const prefixes: Readonly<Record<Unit, readonly PrefixFrom[]>> = {
  Ω: [
    ['G', 1e9],
    ['M', 1e6],
    ['k', 1e3],
    ['', 0.1],
    ['m', 0],
  ],
  F: [
    ['', 1],
    ['µ', 1e-7],
    ['n', 1e-9],
    ['p', 0],
  ],
  H: engineering,
  V: [['k', 1e3], ...engineering],
  A: [...engineering.slice(0, -1), ['p', 1e-12], ['f', 0]],
  W: [
    ['', 0.1],
    ['m', 1e-3],
    ['µ', 1e-6],
    ['n', 0],
  ],
  Hz: [
    ['M', 1e6],
    ['k', 1e3],
    ['', 0.1],
    ['m', 0],
  ],
  s: engineering,
  m: [
    ['', 1],
    ['m', 1e-4],
    ['µ', 0],
  ],
  '°C': [['', 0]],
  S: engineering,
  '%': [['', 0]],
  dB: [['', 0]],
  // Data sheets write 0.5 nV/√Hz and 0.5 pA/√Hz, not 500 of the next smaller.
  'V/√Hz': [
    ['µ', 1e-7],
    ['n', 1e-10],
    ['p', 0],
  ],
  'A/√Hz': [
    ['n', 1e-10],
    ['p', 1e-13],
    ['f', 0],
  ],
  'Ω/V': [
    ['M', 1e6],
    ['k', 1e3],
    ['', 0],
  ],
};

/**
 * A value (SI, fractions for `%`) as it is written on the bench: `0.68 µF`, `4.7 kΩ`, `12.3 mV`, a minus as U+2212.
 * `digits` significant digits (1 to 17), trailing zeros dropped; with 17 the text reads back to the same double.
 * Infinite values print as ∞, which does not read back. Throws a RangeError for NaN.
 */
export function printQuantity(value: number, unit: Unit, digits: number = 3): string {
  return `${value < 0 ? '−' : ''}${printMagnitude(Math.abs(value), unit, digits)}`;
}

/** As printQuantity, always with a sign: for changes and deviations. Zero is `+0`. */
export function printSigned(value: number, unit: Unit, digits: number = 3): string {
  return `${value < 0 ? '−' : '+'}${printMagnitude(Math.abs(value), unit, digits)}`;
}

function printMagnitude(value: number, unit: Unit, digits: number): string {
  if (Number.isNaN(value)) throw new RangeError(`NaN ${unit} cannot be printed`);
  if (value === Infinity) return `∞ ${unit}`;
  // The rounded value decides: 99.96 nF in three digits is 0.1 µF, not 100 nF.
  const rounded = Number(value.toPrecision(digits));
  const prefix = value === 0 ? '' : (prefixes[unit].find(([, from]) => rounded >= from)?.[0] ?? '');
  const plain = decimalOfUnit(value, digits, prefix, unit);
  const shown = Number(plain);
  if (value !== 0 && (shown < 1e-4 || shown >= 1e7)) return withExponent(decimalOfUnit(value, digits, '', unit), unit);
  return `${plain} ${prefix}${unit}`;
}

/** No prefix reaches: `0.00000000000000012` becomes `1.2e-16`. */
function withExponent(plain: string, unit: Unit): string {
  const [whole = '', decimals = ''] = plain.split('.');
  const all = whole + decimals;
  const first = all.search(/[1-9]/);
  const significant = all.slice(first).replace(/0+$/, '');
  const mantissa = significant.length > 1 ? `${significant[0]}.${significant.slice(1)}` : significant;
  return `${mantissa}e${whole.length - 1 - first} ${unit}`;
}
