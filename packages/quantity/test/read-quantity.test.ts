import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type QuantityFault, type Reading, type Unit, kelvin, readQuantity } from '../src/index.ts';

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

function valueOf(reading: Reading): number {
  if (!reading.ok) throw new Error(reading.message);
  return reading.value;
}

describe('number and unit', () => {
  // The values are exact: reading is decimal up to the last step, as is the compiler's reading of the literal.
  test.each<[string, Unit, number]>([
    ['4.7 kΩ', 'Ω', 4700],
    ['4.7kΩ', 'Ω', 4700],
    ['4.7 k\u2126', 'Ω', 4700],
    ['47 ohm', 'Ω', 47],
    ['47 Kohms', 'Ω', 47e3],
    ['1 MOhm', 'Ω', 1e6],
    ['330 nF', 'F', 330e-9],
    ['0.68 \u00b5F', 'F', 0.68e-6],
    ['0.68 \u03bcF', 'F', 0.68e-6],
    ['.68uF', 'F', 0.68e-6],
    ['100 pF', 'F', 1e-10],
    ['480 mH', 'H', 0.48],
    ['20V', 'V', 20],
    ['-1 V', 'V', -1],
    ['\u22121 V', 'V', -1],
    ['1e3 V', 'V', 1000],
    ['0.1 mA', 'A', 1e-4],
    ['0.25 W', 'W', 0.25],
    ['150 MHz', 'Hz', 150e6],
    ['20\u00a0kHz', 'Hz', 20e3],
    ['3180 µs', 's', 3180e-6],
    ['5 mm', 'm', 0.005],
    ['1.2 cm', 'm', 0.012],
    ['25 °C', '°C', 25],
    ['25 C', '°C', 25],
    ['-40 degC', '°C', -40],
    ['20 µS', 'S', 20e-6],
    ['20 µmho', 'S', 20e-6],
    ['2 mA/V', 'S', 2e-3],
    ['5 %', '%', 0.05],
    ['100 dB', 'dB', 100],
    ['4 nV/√Hz', 'V/√Hz', 4e-9],
    ['4 nV/sqrt(Hz)', 'V/√Hz', 4e-9],
    ['0.5 pA/√Hz', 'A/√Hz', 0.5e-12],
    ['20 kΩ/V', 'Ω/V', 20e3],
    ['20 kohm/V', 'Ω/V', 20e3],
    ['0 Ω', 'Ω', 0],
  ])('%s', (text, unit, value) => {
    expect(valueOf(readQuantity(text, unit))).toBe(value);
  });

  // SI Brochure, 9th edition (2019), table of prefixes.
  test.each<[string, Unit, number]>([
    ['aA/√Hz', 'A/√Hz', 1e-18],
    ['fF', 'F', 1e-15],
    ['pF', 'F', 1e-12],
    ['nF', 'F', 1e-9],
    ['µF', 'F', 1e-6],
    ['mF', 'F', 1e-3],
    ['kΩ', 'Ω', 1e3],
    ['MΩ', 'Ω', 1e6],
    ['GΩ', 'Ω', 1e9],
    ['TΩ', 'Ω', 1e12],
    ['MW', 'W', 1e6],
    ['pH', 'H', 1e-12],
    ['kA', 'A', 1e3],
    ['nS', 'S', 1e-9],
    ['fV/√Hz', 'V/√Hz', 1e-15],
    ['MΩ/V', 'Ω/V', 1e6],
  ])('1 %s', (written, unit, value) => {
    expect(valueOf(readQuantity(`1 ${written}`, unit))).toBe(value);
  });

  test('degrees stay degrees; kelvin converts them', () => {
    expect(kelvin(valueOf(readQuantity('25 °C', '°C')))).toBe(298.15);
  });
});

describe('value codes', () => {
  // R47 to 4M7: IEC 60062, examples seen in a public reference. The rest: the same rule, common practice, no source.
  test.each<[string, Unit, number]>([
    ['R47', 'Ω', 0.47],
    ['4R7', 'Ω', 4.7],
    ['470R', 'Ω', 470],
    ['4K7', 'Ω', 4700],
    ['47K', 'Ω', 47e3],
    ['47K3', 'Ω', 47300],
    ['4M7', 'Ω', 4.7e6],
    ['4k7', 'Ω', 4700],
    ['47k', 'Ω', 47e3],
    ['4.7k', 'Ω', 4700],
    ['100n', 'F', 100e-9],
    ['4n7', 'F', 4.7e-9],
    ['µ33', 'F', 0.33e-6],
    ['\u03bc33', 'F', 0.33e-6],
    ['0u33', 'F', 0.33e-6],
    ['3p3', 'F', 3.3e-12],
    ['10m', 'H', 0.01],
    ['470u', 'H', 470e-6],
  ])('%s', (text, unit, value) => {
    expect(valueOf(readQuantity(text, unit))).toBe(value);
  });
});

describe('faults say what to write', () => {
  test.each<[unknown, Unit, QuantityFault, string]>([
    [104, 'F', 'bare-number', '100 nF'],
    ['104', 'F', 'bare-number', '100 nF'],
    ['100', 'F', 'bare-number', '10 pF'],
    ['105', 'F', 'bare-number', '1 µF'],
    [47, 'F', 'bare-number', '47 µF'],
    [473, 'Ω', 'bare-number', '47 kΩ'],
    ['4702', 'Ω', 'bare-number', '47 kΩ'],
    [31, 'V', 'bare-number', '31 V'],
    [0, 'Ω', 'bare-number', '0 Ω'],
    ['0.4', '%', 'bare-number', '40 %'],
    ['4,7 kΩ', 'Ω', 'comma-decimal', 'write 4.7 kΩ'],
    ['4,7', 'Ω', 'comma-decimal', '4.7'],
    ['0,68µF', 'F', 'comma-decimal', '0.68µF'],
    ['1,000 Ω', 'Ω', 'comma-decimal', '1000 Ω'],
    ['1.000,5 V', 'V', 'comma-decimal', '12 V'],
    ['12 KHZ', 'Hz', 'unknown-unit', '12 kHz'],
    ['12 mhz', 'Hz', 'unknown-unit', 'for example 1 kHz'],
    ['100 MFD', 'F', 'unknown-unit', '100 µF'],
    ['47 MMF', 'F', 'unknown-unit', '47 pF'],
    ['4.7 k', 'Ω', 'unknown-unit', '4.7 kΩ'],
    ['5 furlong', 'm', 'unknown-unit', 'for example 5 mm'],
    ['5 V', 'Ω', 'wrong-unit', '5 V is a voltage; write a resistance'],
    ['20m', 'V', 'wrong-unit', '20 mV'],
    ['1m', 'Ω', 'wrong-unit', '1 MΩ'],
    ['4k7', 'F', 'wrong-unit', 'a capacitance'],
    ['100n', 'Ω', 'wrong-unit', 'a resistance'],
    ['', 'V', 'not-a-quantity', '12 V'],
    ['as drawn', 'V', 'not-a-quantity', '12 V'],
    ['4 7 kΩ', 'Ω', 'not-a-quantity', '4.7 kΩ'],
    [null, 'V', 'not-a-quantity', '12 V'],
    [[1], 'V', 'not-a-quantity', 'a list'],
    [{}, 'V', 'not-a-quantity', 'keys'],
    [NaN, 'V', 'out-of-range', '12 V'],
    [Infinity, 'V', 'out-of-range', '12 V'],
    ['NaN V', 'V', 'out-of-range', '12 V'],
    ['.inf', 'V', 'out-of-range', '12 V'],
    ['∞ Ω', 'Ω', 'out-of-range', '4.7 kΩ'],
    ['1e400 V', 'V', 'out-of-range', '12 V'],
    ['1e-400 V', 'V', 'out-of-range', '12 V'],
  ])('%j as %s', (text, unit, kind, hint) => {
    const reading = readQuantity(text, unit);
    expect(reading).toMatchObject({ ok: false, fault: kind });
    expect(reading.ok ? '' : reading.message).toContain(hint);
  });
});

describe('any text', () => {
  test('of a million characters is refused at once', () => {
    for (const text of [`${'1'.repeat(1e6)} V`, `1${' '.repeat(1e6)}V`, '/'.repeat(1e6)]) {
      const reading = readQuantity(text, 'V');
      expect(reading).toMatchObject({ ok: false, fault: 'not-a-quantity' });
      // A message fits a line.
      expect(reading.ok ? '' : reading.message).toMatch(/^.{1,160}$/u);
    }
  });

  const nearly = fc.string({
    unit: fc.constantFrom(...'0123456789.,+-−eEkKMmµunpRΩFHVAWzsS°C%dB/√()# \n\u2126'),
    maxLength: 12,
  });

  test('never throws, and is either a finite value or a one-line message with its remedy', () => {
    fc.assert(
      fc.property(
        fc.oneof(nearly, fc.string({ unit: 'binary' }), fc.anything()),
        fc.constantFrom(...units),
        (text, unit) => {
          const reading = readQuantity(text, unit);
          if (reading.ok) expect(Number.isFinite(reading.value)).toBe(true);
          else expect(reading.message).toMatch(/^[^\n\r]+; write [^\n\r]+$/);
        },
      ),
      { seed: 20261125, numRuns: 5000 },
    );
  });
});
