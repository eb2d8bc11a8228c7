import fc from 'fast-check';
import bundle from 'mathjs/lib/browser/math.js';
import { describe, expect, it } from 'vitest';
import units, { type Decimal } from '../src/decimal-units.ts';
import { unitFacts, type Unit } from '../src/units.ts';

/** What both forms of the arithmetic are asked. */
interface Arithmetic {
  bignumber(value: string): unknown;
  unit(value: never, unit: string): { toNumeric(to: string): unknown };
  createUnit(name: string, definition?: string): unknown;
}

function withBenchUnits<T extends Arithmetic>(arithmetic: T): T {
  arithmetic.createUnit('benchDecibel');
  arithmetic.createUnit('benchFraction');
  arithmetic.createUnit('benchPercent', '0.01 benchFraction');
  arithmetic.createUnit('benchCelsius');
  return arithmetic;
}

const library = withBenchUnits(bundle.create({ number: 'BigNumber', precision: 64 }));
const own = withBenchUnits(units.create());

/** A written unit, prefix included, and the unit it is kept in. */
const written = (Object.keys(unitFacts) as Unit[]).flatMap((unit) => {
  const { expression, spellings, prefixes } = unitFacts[unit];
  const kept = unit === '%' ? 'benchFraction' : expression;
  return [expression, ...Object.values(spellings)].flatMap((spelling) =>
    ['', ...prefixes].map((prefix) => [({ µ: 'u', K: 'k' }[prefix] ?? prefix) + spelling, kept] as const),
  );
});

const magnitude = fc.double({ noDefaultInfinity: true, noNaN: true, min: 1e-30, max: 1e30 });

/** `digits` as printed by the one and the other; both are exact up to the rounding that is asked for. */
function printed(value: number, digits: number, from: string, to: string): readonly [string, string] {
  const theirs = library.bignumber(String(value)).toSignificantDigits(digits);
  const ours: Decimal = own.bignumber(String(value)).toSignificantDigits(digits);
  const converted = library.unit(theirs, from).toNumeric(to) as typeof theirs;
  return [own.unit(ours, from).toNumeric(to).toFixed(), converted.toFixed()];
}

describe('decimal units against the whole library', () => {
  it.each(written)('read %s and print it alike', (unit, kept) => {
    fc.assert(
      fc.property(magnitude, fc.integer({ min: 1, max: 17 }), (value, digits) => {
        const text = String(value);
        const theirs = library.unit(library.bignumber(text), unit).toNumeric(kept).toString();
        expect(Number(own.unit(own.bignumber(text), unit).toNumeric(kept).toString())).toBe(Number(theirs));
        const [ours, other] = printed(value, digits, kept, unit);
        expect(ours).toBe(other);
      }),
      { seed: 20261125, numRuns: 20 },
    );
  });

  it.each(['0', '0.0', '-3.30', '+47', '.5', '5.', '1e-9', '00012.300', '9.9996', '1e400', '1e-400'])(
    'reads %s alike',
    (text) => {
      const theirs = library.unit(library.bignumber(text), 'kohm').toNumeric('ohm').toString();
      expect(Number(own.unit(own.bignumber(text), 'kohm').toNumeric('ohm').toString())).toBe(Number(theirs));
    },
  );

  it('round alike, halves among them', () => {
    const digits = fc.integer({ min: 1, max: 9_999_999 });
    fc.assert(
      fc.property(
        digits,
        fc.integer({ min: -9, max: 9 }),
        fc.integer({ min: 1, max: 6 }),
        (number, exponent, count) => {
          const [ours, other] = printed(Number(`${number}e${exponent}`), count, 'F', 'uF');
          expect(ours).toBe(other);
        },
      ),
      { seed: 20261125, numRuns: 2000 },
    );
  });

  it('refuses what is no number and no unit', () => {
    expect(() => own.bignumber('4k7')).toThrow(RangeError);
    expect(() => own.unit(own.bignumber('1'), 'furlong')).not.toThrow();
    expect(() => own.unit(own.bignumber('1'), 'furlong').toNumeric('m')).toThrow(RangeError);
  });
});
