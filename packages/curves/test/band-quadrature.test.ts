import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bandQuadrature, nominalFrequencies } from '../src/index.ts';

function integral(from: number, to: number, density: (hz: number) => number): number {
  const { frequencies, weights } = bandQuadrature(from, to);
  return frequencies.reduce((sum, hz, n) => sum + weights[n]! * density(hz), 0);
}

describe('integration over a band', () => {
  test('of powers of the frequency agrees with the closed form', () => {
    const powers = fc.record({
      from: fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
      decades: fc.double({ min: 0.1, max: 8, noNaN: true }),
      power: fc.constantFrom(-3, -2, -1, 0, 1, 2),
    });
    fc.assert(
      fc.property(powers, ({ from, decades, power }) => {
        const to = from * 10 ** decades;
        const exact = power === -1 ? Math.log(to / from) : (to ** (power + 1) - from ** (power + 1)) / (power + 1);
        // Eight Gauss points leave (ln f)^16 of a panel, below rounding; hundreds of terms are summed.
        expect(Math.abs(integral(from, to, (hz) => hz ** power) / exact - 1)).toBeLessThan(1e-12);
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });

  test('of a low-pass is fc·arctan', () => {
    const exact = 1000 * (Math.atan(20) - Math.atan(0.02));
    // Poles of a single corner lie π/2 off the real axis of ln f: the panels converge to rounding.
    expect(Math.abs(integral(20, 20_000, (hz) => 1 / (1 + (hz / 1000) ** 2)) / exact - 1)).toBeLessThan(1e-13);
  });

  test.each([
    [3, 1e-7],
    [5, 5e-5],
  ])('of a resonance of Q %i keeps what it promises', (q, tolerance) => {
    // ∫ df / ((1 − x²)² + (x/Q)²) over all frequencies is f0·π·Q/2 (a low-pass of second order; textbook); four decades either side miss less than 1e-11.
    const whole = integral(0.1, 1e8, (hz) => 1 / ((1 - (hz / 15e3) ** 2) ** 2 + (hz / 15e3 / q) ** 2)) + 0.1;
    expect(Math.abs(whole / ((15e3 * Math.PI * q) / 2) - 1)).toBeLessThan(tolerance);
  });

  test.each([
    [0, 10],
    [10, 10],
    [20, 10],
    [1, Infinity],
  ])('throws for the band %f to %f', (from, to) => {
    expect(() => bandQuadrature(from, to)).toThrow(RangeError);
  });
});

describe('nominal third-octave frequencies', () => {
  test('from 20 Hz to 20 kHz are the 31 of ISO 266 (common practice)', () => {
    const band = nominalFrequencies(20, 20_000);
    expect(band).toHaveLength(31);
    expect(band.slice(0, 11)).toEqual([20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200]);
    expect(band.at(-1)).toBe(20_000);
  });

  test('lie within 2 % of 1000·10^(n/10)', () => {
    for (const hz of nominalFrequencies(1, 1e5)) {
      const exact = 10 ** (Math.round(10 * Math.log10(hz)) / 10);
      // The series rounds 10^(n/10) to at most 1.3 %.
      expect(Math.abs(hz / exact - 1)).toBeLessThan(0.013);
    }
  });

  test('throws where no band is', () => {
    expect(() => nominalFrequencies(0, 10)).toThrow(RangeError);
    expect(() => nominalFrequencies(20, 10)).toThrow(RangeError);
  });
});
