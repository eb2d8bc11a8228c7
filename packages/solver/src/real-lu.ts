/**
 * Dense real LU factors with row exchanges, the reference linear solver (Golub & Van Loan, Matrix Computations, 3.4:
 * Gaussian elimination with scaled partial pivoting). All storage is made once; nothing is allocated afterwards.
 */
export interface RealLu {
  readonly size: number;
  /** Row-major size × size; fill it, then call `factor`, which overwrites it. */
  readonly matrix: Float64Array;
  /** Returns −1, or the column in which no pivot was left: the matrix is singular there. */
  factor(): number;
  /** Sign of the determinant of what was factored last. */
  determinantSign(): number;
  /** Solves A x = b in place; b has length size. */
  solve(b: Float64Array): void;
  /** Solves Aᵀ x = b in place. */
  solveTransposed(b: Float64Array): void;
}

export function realLu(size: number): RealLu {
  const matrix = new Float64Array(size * size);
  const order = new Int32Array(size);
  const scale = new Float64Array(size);
  const work = new Float64Array(size);
  let exchanges = 0;

  function factor(): number {
    exchanges = 0;
    for (let i = 0; i < size; i++) {
      order[i] = i;
      let largest = 0;
      for (let j = 0; j < size; j++) largest = Math.max(largest, Math.abs(matrix[i * size + j]!));
      scale[i] = largest > 0 ? 1 / largest : 0;
    }
    for (let k = 0; k < size; k++) {
      let best = 0;
      let pivot = -1;
      for (let i = k; i < size; i++) {
        const weight = Math.abs(matrix[i * size + k]!) * scale[i]!;
        if (weight > best) {
          best = weight;
          pivot = i;
        }
      }
      if (pivot < 0) return k;
      if (pivot !== k) {
        exchangeRows(k, pivot);
        exchanges++;
      }
      const inverse = 1 / matrix[k * size + k]!;
      for (let i = k + 1; i < size; i++) {
        const row = i * size;
        const entry = matrix[row + k]!;
        if (entry === 0) continue;
        const multiplier = entry * inverse;
        matrix[row + k] = multiplier;
        for (let j = k + 1; j < size; j++) matrix[row + j] = matrix[row + j]! - multiplier * matrix[k * size + j]!;
      }
    }
    return -1;
  }

  function determinantSign(): number {
    let sign = exchanges % 2 === 0 ? 1 : -1;
    for (let k = 0; k < size; k++) sign *= Math.sign(matrix[k * size + k]!);
    return sign;
  }

  function exchangeRows(a: number, b: number): void {
    for (let j = 0; j < size; j++) {
      const held = matrix[a * size + j]!;
      matrix[a * size + j] = matrix[b * size + j]!;
      matrix[b * size + j] = held;
    }
    const heldScale = scale[a]!;
    scale[a] = scale[b]!;
    scale[b] = heldScale;
    const heldOrder = order[a]!;
    order[a] = order[b]!;
    order[b] = heldOrder;
  }

  function solve(b: Float64Array): void {
    for (let i = 0; i < size; i++) {
      let sum = b[order[i]!]!;
      for (let j = 0; j < i; j++) sum -= matrix[i * size + j]! * work[j]!;
      work[i] = sum;
    }
    for (let i = size - 1; i >= 0; i--) {
      let sum = work[i]!;
      for (let j = i + 1; j < size; j++) sum -= matrix[i * size + j]! * work[j]!;
      work[i] = sum / matrix[i * size + i]!;
    }
    b.set(work);
  }

  function solveTransposed(b: Float64Array): void {
    work.set(b);
    for (let i = 0; i < size; i++) {
      const known = work[i]! / matrix[i * size + i]!;
      work[i] = known;
      if (known === 0) continue;
      for (let j = i + 1; j < size; j++) work[j] = work[j]! - matrix[i * size + j]! * known;
    }
    for (let i = size - 1; i >= 0; i--) {
      const known = work[i]!;
      if (known === 0) continue;
      for (let j = 0; j < i; j++) work[j] = work[j]! - matrix[i * size + j]! * known;
    }
    for (let i = 0; i < size; i++) b[order[i]!] = work[i]!;
  }

  return { size, matrix, factor, determinantSign, solve, solveTransposed };
}
