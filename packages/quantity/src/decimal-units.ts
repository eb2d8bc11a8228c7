/**
 * The little of the unit library that the unit arithmetic asks for, done with decimal digits alone: every conversion of a bench
 * quantity moves the decimal point. It takes the place of the library where a page has to come over the wire, at a hundredth of
 * its size; the test holds the two against each other for every unit.
 */
export interface DecimalUnits {
  bignumber(value: string): Decimal;
  unit(value: Decimal, unit: string): { toNumeric(to: string): Decimal };
  /** `definition` is a power of ten of a unit made before: `0.01 benchFraction`. */
  createUnit(name: string, definition?: string): void;
}

/** digits × 10^exponent, exactly. */
export interface Decimal {
  readonly negative: boolean;
  /** Without zeros at either end; empty for 0. */
  readonly digits: string;
  readonly exponent: number;
  /** Reads back as the nearest double. */
  toString(): string;
  /** In plain digits, however many. */
  toFixed(): string;
  /** Halves away from zero. */
  toSignificantDigits(count: number): Decimal;
}

const prefixes: Readonly<Record<string, number>> = {
  a: -18,
  f: -15,
  p: -12,
  n: -9,
  u: -6,
  m: -3,
  c: -2,
  k: 3,
  M: 6,
  G: 9,
  T: 12,
};

/** Units that stand first in a written unit; what follows a stroke carries no prefix. */
const bases: readonly string[] = ['ohm', 'F', 'H', 'V', 'A', 'W', 'Hz', 's', 'm', 'S'];

function create(): DecimalUnits {
  const scales = new Map(bases.map((base) => [base, 0]));

  function scaleOf(unit: string): number {
    const [head = ''] = unit.split('/');
    const scale = scales.get(head);
    if (scale !== undefined) return scale;
    const prefix = prefixes[head.slice(0, 1)];
    const base = scales.get(head.slice(1));
    if (prefix === undefined || base === undefined) throw new RangeError(`no unit ${unit}`);
    return prefix + base;
  }

  return {
    bignumber: readDecimal,
    unit: (value, from) => ({
      toNumeric: (to) => decimal(value.negative, value.digits, value.exponent + scaleOf(from) - scaleOf(to)),
    }),
    createUnit(name, definition = '') {
      const [factor = '', base = ''] = definition.split(' ');
      scales.set(name, definition === '' ? 0 : readDecimal(factor).exponent + scaleOf(base));
    },
  };
}

function readDecimal(text: string): Decimal {
  const match = /^([+-]?)(\d*)\.?(\d*)(?:[eE]([+-]?\d+))?$/.exec(text);
  if (match === null) throw new RangeError(`${text} is no decimal number`);
  const [, sign, whole = '', fraction = '', exponent = '0'] = match;
  return decimal(sign === '-', whole + fraction, Number(exponent) - fraction.length);
}

function decimal(negative: boolean, written: string, exponent: number): Decimal {
  const ended = written.replace(/0+$/, '');
  const digits = ended.replace(/^0+/, '');
  const last = exponent + written.length - ended.length;
  const sign = negative ? '-' : '';
  return {
    negative,
    digits,
    exponent: last,
    toString: () => (digits === '' ? `${sign}0` : `${sign}${digits}e${last}`),
    toFixed: () => sign + plain(digits, last),
    toSignificantDigits(count) {
      if (digits.length <= count) return this;
      const kept = BigInt(digits.slice(0, count)) + (digits.charAt(count) >= '5' ? 1n : 0n);
      return decimal(negative, String(kept), last + digits.length - count);
    },
  };
}

function plain(digits: string, exponent: number): string {
  if (digits === '') return '0';
  if (exponent >= 0) return digits + '0'.repeat(exponent);
  const padded = digits.padStart(1 - exponent, '0');
  return `${padded.slice(0, exponent)}.${padded.slice(exponent)}`;
}

const units: { readonly create: typeof create } = { create };
export default units;
