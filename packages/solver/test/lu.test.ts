import fc from 'fast-check';
import { Matrix, solve as mlSolve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { complexLu, realLu } from '../src/index.ts';

const eps = Number.EPSILON;
/** Matrices of n × n with entries over ten decades, as conductances and branch rows give. */
const entry = fc
  .tuple(fc.double({ min: -1, max: 1, noNaN: true }), fc.integer({ min: -6, max: 4 }))
  .map(([mantissa, exponent]) => mantissa * 10 ** exponent);

/** Largest residual of the rows scaled to a largest entry of 1, over the largest x and scaled b: the norm-wise backward error. */
function backwardError(a: number[][], x: number[], b: number[]): number {
  let worst = 0;
  let size = Math.max(...x.map(Math.abs));
  a.forEach((row, i) => {
    const scale = Math.max(...row.map(Math.abs));
    if (scale === 0) return;
    const sum = row.reduce((total, value, j) => total + value * x[j]!, 0);
    worst = Math.max(worst, Math.abs(b[i]! - sum) / scale);
    size = Math.max(size, Math.abs(b[i]!) / scale);
  });
  return size > 0 ? worst / size : 0;
}

describe('real LU', () => {
  it('leaves a residual of rounding size on random systems', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 12 }), fc.infiniteStream(entry), (n, stream) => {
        const draw = (): number => stream.next().value as number;
        const a = Array.from({ length: n }, (_, i) =>
          Array.from({ length: n }, (_, j) => draw() + (i === j ? 1e-3 : 0)),
        );
        const b = Array.from({ length: n }, draw);
        const lu = realLu(n);
        lu.matrix.set(a.flat());
        if (lu.factor() >= 0) return;
        const x = Float64Array.from(b);
        lu.solve(x);
        if (!x.every(Number.isFinite)) return;
        // Higham, Accuracy and Stability, 9.3: n·growth·eps; the growth of these orders stays below 32.
        expect(backwardError(a, [...x], b)).toBeLessThan(32 * n * eps);
      }),
      { seed: 20261125, numRuns: 500 },
    );
  });

  it('transposed leaves a residual of rounding size, too', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 12 }), fc.infiniteStream(entry), (n, stream) => {
        const draw = (): number => stream.next().value as number;
        // Rows of one scale: those of the transposed system are the columns, which row pivoting leaves as they are.
        const a = Array.from({ length: n }, (_, i) =>
          Array.from({ length: n }, (_, j) => Math.tanh(draw()) + (i === j ? 1e-3 : 0)),
        );
        const b = Array.from({ length: n }, draw);
        const lu = realLu(n);
        lu.matrix.set(a.flat());
        if (lu.factor() >= 0) return;
        const x = Float64Array.from(b);
        lu.solveTransposed(x);
        if (!x.every(Number.isFinite)) return;
        const largest =
          Math.max(...a.flat().map(Math.abs)) * Math.max(...x.map(Math.abs)) + Math.max(...b.map(Math.abs));
        b.forEach((wanted, j) => {
          const sum = a.reduce((total, row, i) => total + row[j]! * x[i]!, 0);
          // Norm-wise, as above: the factors of Aᵀ are those of A.
          expect(Math.abs(wanted - sum)).toBeLessThanOrEqual(32 * n * eps * largest);
        });
      }),
      { seed: 20261125, numRuns: 500 },
    );
  });

  it('tells the sign of a determinant', () => {
    const lu = realLu(3);
    const signOf = (matrix: readonly number[]): number => {
      lu.matrix.set(matrix);
      expect(lu.factor()).toBe(-1);
      return lu.determinantSign();
    };
    // By Sarrus' rule 1·3·2 + 2·4·5 = 46; then two rows exchanged, one row turned about, both.
    expect(signOf([1, 2, 0, 0, 3, 4, 5, 0, 2])).toBe(1);
    expect(signOf([0, 3, 4, 1, 2, 0, 5, 0, 2])).toBe(-1);
    expect(signOf([-1, -2, 0, 0, 3, 4, 5, 0, 2])).toBe(-1);
    expect(signOf([0, 3, 4, -1, -2, 0, 5, 0, 2])).toBe(1);
  });

  it('names the column in which a singular matrix has no pivot left', () => {
    const lu = realLu(3);
    lu.matrix.set([1, 2, 3, 2, 4, 6, 1, 0, 1]);
    expect(lu.factor()).toBe(2);
    lu.matrix.fill(0);
    expect(lu.factor()).toBe(0);
  });
});

describe('complex LU', () => {
  it('agrees with ml-matrix on the real form of twice the size, straight and transposed', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 10 }),
        fc.infiniteStream(fc.double({ min: -1, max: 1, noNaN: true })),
        (n, stream) => {
          const draw = (): number => stream.next().value as number;
          const re = Array.from({ length: n }, (_, i) =>
            Array.from({ length: n }, (_, j) => draw() + (i === j ? 2 * n : 0)),
          );
          const im = Array.from({ length: n }, () => Array.from({ length: n }, draw));
          const b = Array.from({ length: 2 * n }, draw);
          const lu = complexLu(n);
          for (const [transposed, pick] of [
            [false, (m: number[][], i: number, j: number) => m[i]![j]!],
            [true, (m: number[][], i: number, j: number) => m[j]![i]!],
          ] as const) {
            lu.matrix.set(re.flatMap((row, i) => row.flatMap((value, j) => [value, im[i]![j]!])));
            expect(lu.factor()).toBe(-1);
            const x = Float64Array.from(b);
            if (transposed) lu.solveTransposed(x);
            else lu.solve(x);
            const form = new Matrix(2 * n, 2 * n);
            for (let i = 0; i < n; i++)
              for (let j = 0; j < n; j++) {
                form.set(i, j, pick(re, i, j));
                form.set(i, n + j, -pick(im, i, j));
                form.set(n + i, j, pick(im, i, j));
                form.set(n + i, n + j, pick(re, i, j));
              }
            const column = Matrix.columnVector([
              ...b.filter((_, k) => k % 2 === 0),
              ...b.filter((_, k) => k % 2 === 1),
            ]);
            const expected = mlSolve(form, column).to1DArray();
            // Strongly diagonal matrices (condition below 10): both solvers are within a few hundred eps.
            for (let i = 0; i < n; i++) {
              expect(Math.abs(x[2 * i]! - expected[i]!)).toBeLessThan(1e-13);
              expect(Math.abs(x[2 * i + 1]! - expected[n + i]!)).toBeLessThan(1e-13);
            }
          }
        },
      ),
      { seed: 20261125, numRuns: 200 },
    );
  });

  it('names the column in which a singular matrix has no pivot left', () => {
    const lu = complexLu(2);
    lu.matrix.set([0, 1, 0, 2, 0, 2, 0, 4]);
    expect(lu.factor()).toBe(1);
  });
});
