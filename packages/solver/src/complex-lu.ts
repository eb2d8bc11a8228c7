/**
 * Dense complex LU factors with row exchanges; complex numbers lie as re, im pairs in a Float64Array. The pivot is
 * chosen by |re| + |im| over the row's largest entry (Golub & Van Loan, Matrix Computations, 3.4). All storage is made
 * once; nothing is allocated afterwards.
 */
export interface ComplexLu {
  readonly size: number;
  /** Row-major, 2 × size × size numbers; fill it, then call `factor`, which overwrites it. */
  readonly matrix: Float64Array;
  /** Returns −1, or the column in which no pivot was left: the matrix is singular there. */
  factor(): number;
  /** Solves A x = b in place; b holds 2 × size numbers. */
  solve(b: Float64Array): void;
  /** Solves Aᵀ x = b in place (transposed, not conjugated). */
  solveTransposed(b: Float64Array): void;
}

export function complexLu(size: number): ComplexLu {
  const width = 2 * size;
  const matrix = new Float64Array(size * width);
  const order = new Int32Array(size);
  const scale = new Float64Array(size);
  const inverse = new Float64Array(width);
  const work = new Float64Array(width);

  function factor(): number {
    for (let i = 0; i < size; i++) {
      order[i] = i;
      let largest = 0;
      for (let j = 0; j < size; j++) largest = Math.max(largest, modulus(i * width + 2 * j));
      scale[i] = largest > 0 ? 1 / largest : 0;
    }
    for (let k = 0; k < size; k++) {
      let best = 0;
      let pivot = -1;
      for (let i = k; i < size; i++) {
        const weight = modulus(i * width + 2 * k) * scale[i]!;
        if (weight > best) {
          best = weight;
          pivot = i;
        }
      }
      if (pivot < 0) return k;
      if (pivot !== k) exchangeRows(k, pivot);
      eliminate(k);
    }
    return -1;
  }

  function modulus(at: number): number {
    return Math.abs(matrix[at]!) + Math.abs(matrix[at + 1]!);
  }

  function eliminate(k: number): void {
    const pivotRow = k * width;
    const pr = matrix[pivotRow + 2 * k]!;
    const pi = matrix[pivotRow + 2 * k + 1]!;
    const norm = pr * pr + pi * pi;
    const ir = pr / norm;
    const ii = -pi / norm;
    inverse[2 * k] = ir;
    inverse[2 * k + 1] = ii;
    for (let i = k + 1; i < size; i++) {
      const row = i * width;
      const er = matrix[row + 2 * k]!;
      const ei = matrix[row + 2 * k + 1]!;
      if (er === 0 && ei === 0) continue;
      const mr = er * ir - ei * ii;
      const mi = er * ii + ei * ir;
      matrix[row + 2 * k] = mr;
      matrix[row + 2 * k + 1] = mi;
      for (let j = 2 * k + 2; j < width; j += 2) {
        const ur = matrix[pivotRow + j]!;
        const ui = matrix[pivotRow + j + 1]!;
        matrix[row + j] = matrix[row + j]! - (mr * ur - mi * ui);
        matrix[row + j + 1] = matrix[row + j + 1]! - (mr * ui + mi * ur);
      }
    }
  }

  function exchangeRows(a: number, b: number): void {
    for (let j = 0; j < width; j++) {
      const held = matrix[a * width + j]!;
      matrix[a * width + j] = matrix[b * width + j]!;
      matrix[b * width + j] = held;
    }
    const heldScale = scale[a]!;
    scale[a] = scale[b]!;
    scale[b] = heldScale;
    const heldOrder = order[a]!;
    order[a] = order[b]!;
    order[b] = heldOrder;
  }

  /** work[i] −= matrix[row, column] · work[j]. */
  function subtractProduct(i: number, at: number, j: number): void {
    const mr = matrix[at]!;
    const mi = matrix[at + 1]!;
    const xr = work[2 * j]!;
    const xi = work[2 * j + 1]!;
    work[2 * i] = work[2 * i]! - (mr * xr - mi * xi);
    work[2 * i + 1] = work[2 * i + 1]! - (mr * xi + mi * xr);
  }

  function divideByPivot(i: number): void {
    const re = work[2 * i]!;
    const im = work[2 * i + 1]!;
    const ir = inverse[2 * i]!;
    const ii = inverse[2 * i + 1]!;
    work[2 * i] = re * ir - im * ii;
    work[2 * i + 1] = re * ii + im * ir;
  }

  function solve(b: Float64Array): void {
    for (let i = 0; i < size; i++) {
      work[2 * i] = b[2 * order[i]!]!;
      work[2 * i + 1] = b[2 * order[i]! + 1]!;
      for (let j = 0; j < i; j++) subtractProduct(i, i * width + 2 * j, j);
    }
    for (let i = size - 1; i >= 0; i--) {
      for (let j = i + 1; j < size; j++) subtractProduct(i, i * width + 2 * j, j);
      divideByPivot(i);
    }
    b.set(work);
  }

  function solveTransposed(b: Float64Array): void {
    work.set(b);
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < i; j++) subtractProduct(i, j * width + 2 * i, j);
      divideByPivot(i);
    }
    for (let i = size - 1; i >= 0; i--) {
      for (let j = i + 1; j < size; j++) subtractProduct(i, j * width + 2 * i, j);
    }
    for (let i = 0; i < size; i++) {
      b[2 * order[i]!] = work[2 * i]!;
      b[2 * order[i]! + 1] = work[2 * i + 1]!;
    }
  }

  return { size, matrix, factor, solve, solveTransposed };
}
