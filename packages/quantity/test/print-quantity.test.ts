import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Unit, printQuantity, printSigned, readQuantity } from '../src/index.ts';

const units: readonly Unit[] = [
  'Ω',
  'F',
  'H',
  'V',
  'A',
  'W',
  'Hz',
  's',
  'm',
  '°C',
  'S',
  '%',
  'dB',
  'V/√Hz',
  'A/√Hz',
  'Ω/V',
];

// Common practice, no source: what a service sheet or a bench note would say.
test.each<[number, Unit, string]>([
  [0.68e-6, 'F', '0.68 µF'],
  [100e-9, 'F', '0.1 µF'],
  [99.96e-9, 'F', '0.1 µF'],
  [99e-9, 'F', '99 nF'],
  [4.7e-9, 'F', '4.7 nF'],
  [330e-12, 'F', '330 pF'],
  [4700e-6, 'F', '4700 µF'],
  [4700, 'Ω', '4.7 kΩ'],
  [0.47, 'Ω', '0.47 Ω'],
  [999.9, 'Ω', '1 kΩ'],
  [47e6, 'Ω', '47 MΩ'],
  [0.48, 'H', '480 mH'],
  [0.01234, 'V', '12.3 mV'],
  [31, 'V', '31 V'],
  [-0.0021, 'V', '−2.1 mV'],
  [0, 'V', '0 V'],
  [0.25, 'W', '0.25 W'],
  [0.012, 'W', '12 mW'],
  [20e3, 'Hz', '20 kHz'],
  [75e-6, 's', '75 µs'],
  [0.005, 'm', '5 mm'],
  [25, '°C', '25 °C'],
  [20e-6, 'S', '20 µS'],
  [0.05, '%', '5 %'],
  [0.000012, '%', '0.0012 %'],
  [-0.345, 'dB', '−0.345 dB'],
  [4e-9, 'V/√Hz', '4 nV/√Hz'],
  [0.5e-12, 'A/√Hz', '0.5 pA/√Hz'],
  [20e3, 'Ω/V', '20 kΩ/V'],
  [1.2e-25, 'V', '1.2e-25 V'],
  [3e20, 'Ω', '3e20 Ω'],
  [Infinity, 'V', '∞ V'],
])('%d %s is written %s', (value, unit, text) => {
  expect(printQuantity(value, unit)).toBe(text);
});

test('a signed print shows the sign of a rise too', () => {
  expect(printSigned(0.5, 'dB')).toBe('+0.5 dB');
  expect(printSigned(-0.5, 'dB')).toBe('−0.5 dB');
  expect(printSigned(0, 'dB')).toBe('+0 dB');
});

test('NaN is not printed', () => {
  expect(() => printQuantity(NaN, 'V')).toThrow(RangeError);
});

describe('what is printed reads back', () => {
  const unit = fc.constantFrom(...units);

  test('within half of the last printed digit', () => {
    // Within these bounds neither rounding up nor a subnormal's coarse steps leave the range of doubles.
    const value = fc
      .tuple(fc.double({ min: 1, max: 10, noNaN: true }), fc.integer({ min: -290, max: 290 }), fc.boolean())
      .map(([mantissa, power, negative]) => (negative ? -1 : 1) * mantissa * 10 ** power);
    fc.assert(
      fc.property(value, unit, fc.integer({ min: 1, max: 16 }), (given, inUnit, digits) => {
        const reading = readQuantity(printQuantity(given, inUnit, digits), inUnit);
        const error = reading.ok ? Math.abs(reading.value - given) / Math.abs(given) : NaN;
        // Half a unit of the last digit is largest against a leading 1; the double adds its own rounding.
        expect(error).toBeLessThanOrEqual(0.5 * 10 ** (1 - digits) + 2 * Number.EPSILON);
        expect(readQuantity(printSigned(given, inUnit, digits), inUnit)).toEqual(reading);
      }),
      { seed: 20261125, numRuns: 2000 },
    );
  });

  test('bit for bit with 17 digits', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), unit, (value, inUnit) => {
        // A negative zero is written without its sign.
        const expected = value === 0 ? 0 : value;
        expect(readQuantity(printQuantity(value, inUnit, 17), inUnit)).toEqual({ ok: true, value: expected });
      }),
      { seed: 20261125, numRuns: 2000 },
    );
  });

  test('a print of a print is the same', () => {
    const value = fc.double({ min: 1e-12, max: 1e9, noNaN: true });
    fc.assert(
      fc.property(value, unit, (given, inUnit) => {
        const printed = printQuantity(given, inUnit);
        const reading = readQuantity(printed, inUnit);
        expect(reading.ok && printQuantity(reading.value, inUnit)).toBe(printed);
      }),
      { seed: 20261125, numRuns: 1000 },
    );
  });
});
