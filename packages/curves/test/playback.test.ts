import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { playbackTransfer, riaaTimes, targetDb } from '../src/index.ts';

interface Row {
  readonly hz: number;
  readonly riaa: number;
  readonly riaa1976: number;
  readonly table1954?: number;
}

const table = JSON.parse(readFileSync(new URL('../../../fixtures/riaa-table.json', import.meta.url), 'utf8')) as {
  readonly corners: { readonly T1: number; readonly T2: number; readonly T3: number };
  readonly rows: readonly Row[];
};
const audible = fc.double({ min: 0.1, max: 1e6, noNaN: true });

describe('playback curve of IEC 60098', () => {
  // The table is rounded to 1e-3 dB, so half of that separates it from the formula.
  test.each(table.rows)('$hz Hz, computed columns', ({ hz, riaa, riaa1976 }) => {
    expect(Math.abs(targetDb('riaa', hz) - riaa)).toBeLessThanOrEqual(0.5e-3 + 1e-9);
    expect(Math.abs(targetDb('riaa-1976', hz) - riaa1976)).toBeLessThanOrEqual(0.5e-3 + 1e-9);
  });

  // From memory; 0.08 dB because the printed table carries roundings and misprints.
  test.each(table.rows.filter((row) => row.table1954 !== undefined))('$hz Hz, printed table of 1954', (row) => {
    expect(Math.abs(targetDb('riaa', row.hz) - (row.table1954 ?? NaN))).toBeLessThanOrEqual(0.08);
  });

  test('is 0 dB at 1 kHz with either target', () => {
    expect(targetDb('riaa', 1000)).toBe(0);
    expect(targetDb('riaa-1976', 1000)).toBe(0);
  });

  test('has its corners where the time constants put them', () => {
    for (const name of ['T1', 'T2', 'T3'] as const) {
      // Half of the last printed digit.
      expect(Math.abs(1 / (2 * Math.PI * riaaTimes[name]) - table.corners[name])).toBeLessThanOrEqual(0.5e-4);
    }
  });

  test('lets nothing through at 0 Hz with the amendment, and everything the bass boost gives without it', () => {
    expect(targetDb('riaa-1976', 0)).toBe(-Infinity);
    // The formula's own limit: |H(0)| = 1 over |H(1 kHz)|.
    expect(targetDb('riaa', 0)).toBeCloseTo(19.911, 3);
  });
});

describe('complex gain', () => {
  // Some twenty rounded operations at 8.7 dB per unit of relative error: under 1e-13 dB; ten times that is allowed.
  test('agrees with the dB form', () => {
    fc.assert(
      fc.property(fc.constantFrom('riaa' as const, 'riaa-1976' as const), audible, (target, hz) => {
        const db = 20 * Math.log10(playbackTransfer(target, hz).abs());
        expect(Math.abs(db - targetDb(target, hz))).toBeLessThanOrEqual(1e-12);
      }),
      { seed: 20261125, numRuns: 500 },
    );
  });

  test('turns the phase by one arctangent for each time constant', () => {
    const { T1, T2, T3, T4 } = riaaTimes;
    fc.assert(
      fc.property(audible, (hz) => {
        const w = 2 * Math.PI * hz;
        const expected = Math.atan(w * T2) - Math.atan(w * T1) - Math.atan(w * T3);
        // A dozen roundings of numbers of the size of a radian.
        expect(Math.abs(playbackTransfer('riaa', hz).arg() - expected)).toBeLessThanOrEqual(1e-14);
        const turned = playbackTransfer('riaa-1976', hz).arg() - expected;
        expect(Math.abs(turned - Math.atan(1 / (w * T4)))).toBeLessThanOrEqual(1e-14);
      }),
      { seed: 20261125, numRuns: 500 },
    );
  });
});
