import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gmres } from '../src/index.ts';

/** Of ordinary size: lengths are sums of squares, which must not vanish. */
const entry = fc.integer({ min: -1000, max: 1000 }).map((thousandths) => thousandths / 1000);

function product(a: readonly number[][], v: Float64Array): number[] {
  return a.map((row) => row.reduce((sum, value, j) => sum + value * v[j]!, 0));
}

function length(x: ArrayLike<number>): number {
  return Math.hypot(...Array.from(x));
}

describe('gmres', () => {
  it('leaves no more of the right side than it was asked to, on random systems', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 12 }), fc.infiniteStream(entry), (n, stream) => {
        const draw = (): number => stream.next().value as number;
        const a = Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => draw() + (i === j ? n : 0)));
        const b = Float64Array.from({ length: n }, draw);
        const x = new Float64Array(n).fill(7);
        const apply = (v: Float64Array, target: Float64Array): void => {
          target.set(product(a, v));
        };
        const steps = gmres(n, n).solve(apply, b, x, 1e-10);
        const left = product(a, x).map((value, i) => value - b[i]!);
        expect(steps).toBeLessThanOrEqual(n);
        // The recursion's own estimate drifts from the true residual by rounding of n products.
        expect(length(left)).toBeLessThanOrEqual(2e-10 * length(b));
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });

  it('needs one step more than the rank by which a matrix differs from the unit matrix', () => {
    const n = 40;
    const apply = (v: Float64Array, target: Float64Array): void => {
      target.set(v);
      target[3] = target[3]! + 50 * (v[1]! + v[30]!);
      target[17] = target[17]! - 20 * v[3]!;
    };
    const b = Float64Array.from({ length: n }, (_, i) => Math.cos(i));
    expect(gmres(n, n).solve(apply, b, new Float64Array(n), 1e-12)).toBeLessThanOrEqual(3);
  });

  it('answers a right side of nothing with nothing', () => {
    const x = new Float64Array(3).fill(1);
    expect(gmres(3, 3).solve(() => undefined, new Float64Array(3), x, 1e-12)).toBe(0);
    expect([...x]).toEqual([0, 0, 0]);
  });
});
