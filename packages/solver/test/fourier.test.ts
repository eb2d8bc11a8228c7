import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fourier } from '../src/index.ts';

const eps = Number.EPSILON;
const sample = fc.double({ min: -1, max: 1, noNaN: true });

/** Amplitude of a harmonic by the defining sum. */
function amplitudeOf(x: readonly number[], k: number): [number, number] {
  const share = (k === 0 ? 1 : 2) / x.length;
  const angle = (n: number): number => (2 * Math.PI * k * n) / x.length;
  return [
    x.reduce((sum, value, n) => sum + share * value * Math.cos(angle(n)), 0),
    x.reduce((sum, value, n) => sum - share * value * Math.sin(angle(n)), 0),
  ];
}

describe('fourier', () => {
  it.each([4, 8, 64])('gives the amplitudes that the defining sums give, %i samples of two signals', (samples) => {
    fc.assert(
      fc.property(fc.array(sample, { minLength: 2 * samples, maxLength: 2 * samples }), (values) => {
        const transform = fourier(samples);
        const signals = [values.slice(0, samples), values.slice(samples)];
        const found = [new Float64Array(samples + 2), new Float64Array(samples + 2)] as const;
        signals.forEach((x, s) => {
          x.forEach((value, n) => (transform.signals[2 * n + s] = value));
        });
        transform.analyse(...found, 2);
        signals.forEach((x, s) => {
          for (let k = 0; k < transform.harmonics; k++) {
            const [re, im] = amplitudeOf(x, k);
            // Sums of at most 64 terms of size 1, each rounded in value, sine and product.
            expect(Math.abs(found[s]![2 + 2 * k]! - re)).toBeLessThan(3 * samples * eps);
            expect(Math.abs(found[s]![3 + 2 * k]! - im)).toBeLessThan(3 * samples * eps);
          }
        });
      }),
      { seed: 20261125, numRuns: 20 },
    );
  });

  it('writes samples whose harmonics read back', () => {
    const transform = fourier(32);
    const first = Float64Array.from({ length: 32 }, (_, i) => (i === 1 ? 0 : Math.sin(i)));
    const second = Float64Array.from({ length: 32 }, (_, i) => (i === 1 ? 0 : Math.cos(3 * i)));
    const [a, b] = [new Float64Array(32), new Float64Array(32)];
    transform.synthesise(first, 0, second, 0);
    transform.analyse(a, b, 0);
    for (let i = 0; i < 32; i++) {
      expect(Math.abs(a[i]! - first[i]!)).toBeLessThan(100 * eps);
      expect(Math.abs(b[i]! - second[i]!)).toBeLessThan(100 * eps);
    }
  });

  it('refuses a number of samples that is no power of two', () => {
    expect(() => fourier(12)).toThrow(RangeError);
    expect(() => fourier(2)).toThrow(RangeError);
  });
});
