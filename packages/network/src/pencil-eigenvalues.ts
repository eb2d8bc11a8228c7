import { realLu } from '@curvewright/solver';
import { EVD, Matrix } from 'ml-matrix';
import { finitePart } from './finite-part.ts';
import type { Pencil } from './state-basis.ts';

/** A complex number, 1/s where it is an eigenvalue. */
export interface Eigenvalue {
  readonly re: number;
  readonly im: number;
}

/** The finite eigenvalues of G + s·C to the accuracy of one decomposition, fastest first; conjugates stand side by side, upper one first. */
export interface FiniteSpectrum {
  readonly values: readonly Eigenvalue[];
  /** How many of them are zero by structure; they stand last. */
  readonly atOrigin: number;
  /** Sum of all eigenvalues, and of the reciprocals of those that are not zero, each from the trace of a matrix. */
  readonly sum: number;
  readonly reciprocalSum: number;
  /** ln of the product of those that are not zero, from determinants. */
  readonly logProduct: number;
}

/**
 * One decomposition holds the fast eigenvalues to rounding and drowns the slow ones, one of the inverse holds the slow ones: each gives the
 * half it is good at. Null where the pencil is singular for every s.
 */
export function finiteSpectrum(pencil: Pencil): FiniteSpectrum | null {
  const finite = finitePart(pencil);
  if (finite === null) return null;
  const reversed = finitePart({ ...finite, conductance: finite.capacitance, capacitance: finite.conductance });
  if (reversed === null) return null;
  const { size, conductance: storage, capacitance: flow } = reversed;
  const atOrigin = finite.size - size;
  const zeros = Array.from({ length: atOrigin }, () => ({ re: 0, im: 0 }));
  if (size === 0) return { values: zeros, atOrigin, sum: 0, reciprocalSum: 0, logProduct: 0 };
  const rates = minusInverseTimes(size, storage, flow);
  const times = minusInverseTimes(size, flow, storage);
  if (rates === null || times === null) return null;
  const byRate = ordered(eigenvaluesOf(rates.matrix, size));
  const byTime = ordered(eigenvaluesOf(times.matrix, size).map(reciprocal));
  const cut = cutBetween(byRate, byTime);
  return {
    values: [...byRate.slice(0, cut), ...byTime.slice(cut), ...zeros],
    atOrigin,
    sum: trace(rates.matrix, size),
    reciprocalSum: trace(times.matrix, size),
    logProduct: times.logDivisor - rates.logDivisor,
  };
}

/** −A⁻¹B, row-major, and ln |det A|; null where A is singular. */
function minusInverseTimes(
  size: number,
  a: Float64Array,
  b: Float64Array,
): { readonly matrix: Float64Array; readonly logDivisor: number } | null {
  const lu = realLu(size);
  lu.matrix.set(a);
  if (lu.factor() >= 0) return null;
  const matrix = new Float64Array(size * size);
  const column = new Float64Array(size);
  let logDivisor = 0;
  for (let j = 0; j < size; j++) {
    logDivisor += Math.log(Math.abs(lu.matrix[j * size + j]!));
    for (let i = 0; i < size; i++) column[i] = -b[i * size + j]!;
    lu.solve(column);
    for (let i = 0; i < size; i++) matrix[i * size + j] = column[i]!;
  }
  return matrix.every(Number.isFinite) ? { matrix, logDivisor } : null;
}

function eigenvaluesOf(matrix: Float64Array, size: number): readonly Eigenvalue[] {
  const { realEigenvalues, imaginaryEigenvalues } = new EVD(Matrix.from1DArray(size, size, balanced(matrix, size)));
  return realEigenvalues.map((re, i) => ({ re, im: imaginaryEigenvalues[i]! }));
}

/** Rows and columns scaled alike by powers of two until their norms match (Osborne, J. ACM 7, 1960). */
function balanced(matrix: Float64Array, size: number): Float64Array {
  const m = matrix.slice();
  for (let sweep = 0; sweep < 100; sweep++) {
    let moved = false;
    for (let i = 0; i < size; i++) {
      let [row, column] = [0, 0];
      for (let k = 0; k < size; k++) {
        if (k === i) continue;
        row += Math.abs(m[i * size + k]!);
        column += Math.abs(m[k * size + i]!);
      }
      if (row === 0 || column === 0) continue;
      const by = 2 ** Math.round(Math.log2(row / column) / 2);
      if (by === 1) continue;
      moved = true;
      for (let k = 0; k < size; k++) {
        m[i * size + k] = m[i * size + k]! / by;
        m[k * size + i] = m[k * size + i]! * by;
      }
    }
    if (!moved) break;
  }
  return m;
}

export function modulus({ re, im }: Eigenvalue): number {
  return Math.hypot(re, im);
}

/** Of what rounding made zero: infinite, the fastest of all. */
function reciprocal({ re, im }: Eigenvalue): Eigenvalue {
  if (re === 0 && im === 0) return { re: -Infinity, im: 0 };
  const norm = re * re + im * im;
  return { re: re / norm, im: -im / norm };
}

function ordered(values: readonly Eigenvalue[]): readonly Eigenvalue[] {
  const upper = values.filter(({ im }) => im >= 0).toSorted((a, b) => modulus(b) - modulus(a));
  return upper.flatMap(({ re, im }) =>
    im > 0
      ? [
          { re, im },
          { re, im: -im },
        ]
      : [{ re, im }],
  );
}

/** How many to take from the first list: the widest gap within two decades of the middle of all, where both lists are sharp. */
function cutBetween(fast: readonly Eigenvalue[], slow: readonly Eigenvalue[]): number {
  const middle = Math.sqrt(modulus(fast[0]!) * modulus(slow.at(-1)!));
  let [widest, cut] = [0, -1];
  for (let k = 1; k < fast.length; k++) {
    const [above, below] = [modulus(fast[k - 1]!), modulus(slow[k]!)];
    if (splitsPair(fast, k) || splitsPair(slow, k)) continue;
    const between = Math.sqrt(above * below);
    const gap = Math.log(above / below) - Math.max(0, Math.abs(Math.log(between / middle)) - Math.log(100));
    if (gap > widest) [widest, cut] = [gap, k];
  }
  return cut < 0 ? fast.length : cut;
}

function splitsPair(values: readonly Eigenvalue[], at: number): boolean {
  return values[at - 1]!.im > 0 && values[at]!.im < 0;
}

function trace(matrix: Float64Array, size: number): number {
  let sum = 0;
  for (let i = 0; i < size; i++) sum += matrix[i * size + i]!;
  return sum;
}
