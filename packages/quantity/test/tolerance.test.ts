import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type QuantityFault, readTolerance } from '../src/index.ts';

describe('tolerances', () => {
  test.each<[string, number, number]>([
    ['5 %', 0.05, 0.05],
    ['±5 %', 0.05, 0.05],
    ['+/-5%', 0.05, 0.05],
    ['0 %', 0, 0],
    ['-20/+80 %', 0.2, 0.8],
    ['\u221220/+80 %', 0.2, 0.8],
    ['+80/-20 %', 0.2, 0.8],
    ['-10%/+50%', 0.1, 0.5],
    ['-10 % +50 %', 0.1, 0.5],
    ['0/+100 %', 0, 1],
  ])('%s', (text, minus, plus) => {
    expect(readTolerance(text)).toEqual({ ok: true, value: { minus, plus } });
  });

  // IEC 60062, from memory; percent.
  test.each<[string, number, number]>([
    ['E', 0.005, 0.005],
    ['L', 0.01, 0.01],
    ['P', 0.02, 0.02],
    ['W', 0.05, 0.05],
    ['B', 0.1, 0.1],
    ['C', 0.25, 0.25],
    ['D', 0.5, 0.5],
    ['F', 1, 1],
    ['G', 2, 2],
    ['H', 3, 3],
    ['J', 5, 5],
    ['K', 10, 10],
    ['M', 20, 20],
    ['N', 30, 30],
    ['Q', 10, 30],
    ['T', 10, 50],
    ['S', 20, 50],
    ['Z', 20, 80],
  ])('letter %s', (letter, minus, plus) => {
    expect(readTolerance(letter)).toEqual(readTolerance(`-${minus}/+${plus} %`));
    expect(readTolerance(letter).ok).toBe(true);
  });

  test.each<[unknown, QuantityFault, string]>([
    [5, 'bare-number', '5 %'],
    ['5', 'bare-number', '5 %'],
    [0.05, 'bare-number', '5 %'],
    ['-20/+80', 'bare-number', '-20/+80 %'],
    ['2,5 %', 'comma-decimal', '2.5 %'],
    ['0.5 pF', 'wrong-unit', '5 %'],
    ['-5 %', 'not-a-quantity', 'both'],
    ['-5/-3 %', 'not-a-quantity', '-20/+80 %'],
    ['5/5 %', 'not-a-quantity', '-20/+80 %'],
    ['X', 'not-a-quantity', 'letter'],
    ['constructor', 'not-a-quantity', 'letter'],
    [null, 'not-a-quantity', '5 %'],
    ['150 %', 'out-of-range', '5 %'],
    [Infinity, 'out-of-range', '5 %'],
  ])('%j', (text, kind, hint) => {
    const reading = readTolerance(text);
    expect(reading).toMatchObject({ ok: false, fault: kind });
    expect(reading.ok ? '' : reading.message).toContain(hint);
  });

  test('any text is either two sane fractions or a one-line message with its remedy', () => {
    const nearly = fc.string({ unit: fc.constantFrom(...'0123456789.,+-±−/% JKpF\n'), maxLength: 12 });
    fc.assert(
      fc.property(fc.oneof(nearly, fc.string({ unit: 'binary' }), fc.anything()), (text) => {
        const reading = readTolerance(text);
        if (reading.ok) {
          expect(reading.value.minus).toBeGreaterThanOrEqual(0);
          expect(reading.value.minus).toBeLessThanOrEqual(1);
          expect(reading.value.plus).toBeGreaterThanOrEqual(0);
          expect(Number.isFinite(reading.value.plus)).toBe(true);
        } else expect(reading.message).toMatch(/^[^\n\r]+; write [^\n\r]+$/);
      }),
      { seed: 20261125, numRuns: 3000 },
    );
  });
});
