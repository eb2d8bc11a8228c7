import { describe, expect, test } from 'vitest';
import { aWeightingDb, aWeightingPower, bandQuadrature, targetDb } from '../src/index.ts';

/** IEC 61672-1, as printed in a sound level meter's manual: n of the exact frequency 1000·10^(n/10), dB. */
const table = [
  [-20, -70.4],
  [-17, -50.5],
  [-15, -39.4],
  [-13, -30.2],
  [-10, -19.1],
  [-7, -10.9],
  [-3, -3.2],
  [0, 0],
  [3, 1.2],
  [6, 1],
  [9, -1.1],
  [10, -2.5],
  [12, -6.6],
  [13, -9.3],
] as const;

describe('A-weighting of IEC 61672-1', () => {
  test.each(table)('at 1000·10^(%i/10) Hz is %f dB', (n, db) => {
    // Half of the printed digit.
    expect(Math.abs(aWeightingDb(1000 * 10 ** (n / 10)) - db)).toBeLessThanOrEqual(0.05 + 1e-9);
  });

  // Computed from the published formulas, to a tenth of a hertz.
  const riaaPower = (hz: number): number => 10 ** (targetDb('riaa', hz) / 10);
  test.each([
    ['A', 12467.2, aWeightingPower],
    ['RIAA', 8630.4, riaaPower],
    ['RIAA and A', 3213.7, (hz: number) => riaaPower(hz) * aWeightingPower(hz)],
  ] as const)('noise bandwidth from 20 Hz to 20 kHz of %s is %f Hz', (_, hertz, power) => {
    const { frequencies, weights } = bandQuadrature(20, 20_000);
    const bandwidth = frequencies.reduce((sum, hz, n) => sum + weights[n]! * power(hz), 0);
    expect(Math.abs(bandwidth - hertz)).toBeLessThanOrEqual(0.05);
  });
});
