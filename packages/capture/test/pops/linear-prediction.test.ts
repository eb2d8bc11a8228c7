import { describe, expect, it } from 'vitest';
import { burgFit, predictionError } from '../../src/pops/linear-prediction.ts';
import { gaussian } from './silence.ts';

const length = 20_000;
const whole = new Float64Array(length).fill(1);

/** y[n] = 1.6·y[n − 1] − 0.8·y[n − 2] + noise. */
function secondOrder(seed: number): Float64Array {
  const next = gaussian(seed);
  const samples = new Float64Array(length);
  for (let n = 2; n < length; n++) samples[n] = 1.6 * samples[n - 1]! - 0.8 * samples[n - 2]! + next();
  return samples;
}

describe('the predictor', () => {
  it('finds the model that noise was made by', () => {
    const [one, a1, a2] = burgFit(2, length)(secondOrder(1), whole);
    expect(one).toBe(1);
    // Standard error of the estimates: √((1 − a₂²)/n) = 0.0042; four of them.
    expect(Math.abs(a1! + 1.6)).toBeLessThan(0.017);
    expect(Math.abs(a2! - 0.8)).toBeLessThan(0.017);
  });

  it('leaves the noise itself as the error', () => {
    const samples = secondOrder(2);
    const error = new Float64Array(length);
    predictionError(burgFit(2, length)(samples, whole), samples, error);
    const next = gaussian(2);
    const noise = Array.from({ length: length - 2 }, next);
    const left = noise.reduce((sum, value, n) => sum + (error[n + 2]! - value) ** 2, 0) / noise.length;
    // Two parameters of a fit to n samples bring 2/n = 1e-4 of the noise's power; four times that.
    expect(left).toBeLessThan(4e-4);
  });

  it('predicts steady lines away', () => {
    const samples = Float64Array.from({ length }, (_, n) => Math.sin(0.2 * n) + 0.5 * Math.sin(0.6 * n + 1));
    const error = new Float64Array(length);
    predictionError(burgFit(4, length)(samples, whole), samples, error);
    // Burg's lines lie off by a little with their phase at the ends: some 1/n of a radian a sample.
    expect(Math.max(...error.map(Math.abs))).toBeLessThan(1e-3);
  });

  it('leaves out what has no weight', () => {
    const samples = secondOrder(3);
    const clean = burgFit(2, length)(samples, whole);
    const weights = whole.slice();
    for (let at = 100; at < length; at += 500) {
      samples[at]! += 1000;
      weights.fill(0, at, at + 3);
    }
    const spoilt = burgFit(2, length)(samples, whole);
    expect(Math.abs(spoilt[1]! + 1.6)).toBeGreaterThan(0.5);
    const weighted = burgFit(2, length)(samples, weights);
    // 0.6 % of the samples are missing: far below the standard error, 0.0042.
    expect(Math.abs(weighted[1]! - clean[1]!)).toBeLessThan(0.0042);
  });

  it('takes silence as it is', () => {
    expect([...burgFit(3, 100)(new Float64Array(100), whole)]).toEqual([1, 0, 0, 0]);
  });
});
