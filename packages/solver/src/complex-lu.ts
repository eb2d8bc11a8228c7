/**
 * Dense complex LU factors with row exchanges; complex numbers lie as re, im pairs in a Float64Array. The pivot is
 * chosen by |re| + |im| over the row's largest entry (Golub & Van Loan, Matrix Computations, 3.4). Zeros are passed over:
 * circuit equations have a handful of entries in a row. All storage is made once; nothing is allocated afterwards.
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
  /** Columns of the entries that are not zero: of a pivot's row while factoring, then of every row of the factors, `size` places each. */
  const pivotColumns = new Int32Array(size);
  const columns = new Int32Array(size * size);
  /** How many of a row's entries stand left of the diagonal, and how many left of and right of it together. */
  const lowerCount = new Int32Array(size);
  const rowCount = new Int32Array(size);

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
    listEntries();
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
    let count = 0;
    for (let j = k + 1; j < size; j++) {
      if (matrix[pivotRow + 2 * j] !== 0 || matrix[pivotRow + 2 * j + 1] !== 0) pivotColumns[count++] = 2 * j;
    }
    for (let i = k + 1; i < size; i++) {
      const row = i * width;
      const er = matrix[row + 2 * k]!;
      const ei = matrix[row + 2 * k + 1]!;
      if (er === 0 && ei === 0) continue;
      const mr = er * ir - ei * ii;
      const mi = er * ii + ei * ir;
      matrix[row + 2 * k] = mr;
      matrix[row + 2 * k + 1] = mi;
      for (let c = 0; c < count; c++) {
        const j = pivotColumns[c]!;
        const ur = matrix[pivotRow + j]!;
        const ui = matrix[pivotRow + j + 1]!;
        matrix[row + j] = matrix[row + j]! - (mr * ur - mi * ui);
        matrix[row + j + 1] = matrix[row + j + 1]! - (mr * ui + mi * ur);
      }
    }
  }

  function listEntries(): void {
    for (let i = 0; i < size; i++) {
      let count = 0;
      for (let j = 0; j < size; j++) {
        if (j === i) lowerCount[i] = count;
        else if (matrix[i * width + 2 * j] !== 0 || matrix[i * width + 2 * j + 1] !== 0)
          columns[i * size + count++] = j;
      }
      rowCount[i] = count;
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

  function divideByPivot(i: number): void {
    const re = work[2 * i]!;
    const im = work[2 * i + 1]!;
    const ir = inverse[2 * i]!;
    const ii = inverse[2 * i + 1]!;
    work[2 * i] = re * ir - im * ii;
    work[2 * i + 1] = re * ii + im * ir;
  }

  /** work[i] −= Σ matrix[i, j] · work[j] over the entries numbered `from` up to `to` of row i. */
  function subtractRow(i: number, from: number, to: number): void {
    let re = work[2 * i]!;
    let im = work[2 * i + 1]!;
    for (let c = i * size + from; c < i * size + to; c++) {
      const j = columns[c]!;
      const mr = matrix[i * width + 2 * j]!;
      const mi = matrix[i * width + 2 * j + 1]!;
      const xr = work[2 * j]!;
      const xi = work[2 * j + 1]!;
      re -= mr * xr - mi * xi;
      im -= mr * xi + mi * xr;
    }
    work[2 * i] = re;
    work[2 * i + 1] = im;
  }

  /** work[j] −= matrix[i, j] · work[i] over the entries numbered `from` up to `to` of row i. */
  function subtractFromRow(i: number, from: number, to: number): void {
    const xr = work[2 * i]!;
    const xi = work[2 * i + 1]!;
    for (let c = i * size + from; c < i * size + to; c++) {
      const j = columns[c]!;
      const mr = matrix[i * width + 2 * j]!;
      const mi = matrix[i * width + 2 * j + 1]!;
      work[2 * j] = work[2 * j]! - (mr * xr - mi * xi);
      work[2 * j + 1] = work[2 * j + 1]! - (mr * xi + mi * xr);
    }
  }

  function solve(b: Float64Array): void {
    for (let i = 0; i < size; i++) {
      work[2 * i] = b[2 * order[i]!]!;
      work[2 * i + 1] = b[2 * order[i]! + 1]!;
      subtractRow(i, 0, lowerCount[i]!);
    }
    for (let i = size - 1; i >= 0; i--) {
      subtractRow(i, lowerCount[i]!, rowCount[i]!);
      divideByPivot(i);
    }
    b.set(work);
  }

  function solveTransposed(b: Float64Array): void {
    work.set(b);
    for (let i = 0; i < size; i++) {
      divideByPivot(i);
      subtractFromRow(i, lowerCount[i]!, rowCount[i]!);
    }
    for (let i = size - 1; i >= 0; i--) subtractFromRow(i, 0, lowerCount[i]!);
    for (let i = 0; i < size; i++) {
      b[2 * order[i]!] = work[2 * i]!;
      b[2 * order[i]! + 1] = work[2 * i + 1]!;
    }
  }

  return { size, matrix, factor, solve, solveTransposed };
}
