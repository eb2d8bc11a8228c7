/** Where the entries of a sparse square matrix stand: entry k is at (rows[k], columns[k]), each place once. */
export interface Pattern {
  readonly size: number;
  readonly rows: Int32Array;
  readonly columns: Int32Array;
}

/** In which order rows and columns are eliminated. */
export interface PivotOrder {
  /** Row and column of the k-th pivot. */
  readonly rows: Int32Array;
  readonly columns: Int32Array;
  /** How many of the first pivots are constant: their rows and columns held nothing but constants when their turn came. */
  readonly constant: number;
}

export interface OrderRequest {
  readonly pattern: Pattern;
  /** Values the order must be sound for, one array for each sample: re, im of every entry. */
  readonly samples: readonly Float64Array[];
  /** 1 for entries that do not change with frequency. */
  readonly constant: Uint8Array;
  /** Columns that come last, so that little of the back substitution is needed to reach them. */
  readonly last: readonly number[];
}

/** A pivot must be at least this fraction of the largest entry left in its column, at every sample. */
const threshold = 1e-3;

/** A constant pivot is taken early only where it spreads this little. */
const spreadAllowed = 6;

/**
 * Pivots by least spread (Markowitz, Management Science 3, 1957) among those that are large enough at every sample (threshold pivoting: Duff,
 * Erisman & Reid, Direct Methods for Sparse Matrices, ch. 5). Constants come first, the columns `last` at the end. Null where some
 * step finds no pivot: the matrix is singular at a sample.
 */
export function pivotOrder({ pattern, samples, constant, last }: OrderRequest): PivotOrder | null {
  const { size } = pattern;
  const dense = samples.map((values) => scattered(pattern, values));
  const filled = new Uint8Array(size * size);
  const varying = new Uint8Array(size * size);
  pattern.rows.forEach((row, k) => {
    const at = row * size + pattern.columns[k]!;
    filled[at] = 1;
    if (!constant[k]) varying[at] = 1;
  });
  const rowLeft = new Uint8Array(size).fill(1);
  const columnLeft = new Uint8Array(size).fill(1);
  const late = new Uint8Array(size);
  for (const column of last) late[column] = 1;
  const order = { rows: new Int32Array(size), columns: new Int32Array(size), constant: 0 };

  const counts = { row: new Int32Array(size), column: new Int32Array(size) };
  function count(marks: Uint8Array, rows: Int32Array, columns: Int32Array): void {
    rows.fill(0);
    columns.fill(0);
    for (let i = 0; i < size; i++) {
      if (!rowLeft[i]) continue;
      for (let j = 0; j < size; j++) {
        if (!columnLeft[j] || !marks[i * size + j]) continue;
        rows[i] = rows[i]! + 1;
        columns[j] = columns[j]! + 1;
      }
    }
  }
  const varyingCounts = { row: new Int32Array(size), column: new Int32Array(size) };

  /** The smallest of pivot over its column's largest entry, over all samples. */
  function relativeSize(row: number, column: number): number {
    let smallest = Infinity;
    for (const values of dense) {
      let largest = 0;
      for (let i = 0; i < size; i++) if (rowLeft[i]) largest = Math.max(largest, modulus(values, i * size + column));
      smallest = Math.min(smallest, largest > 0 ? modulus(values, row * size + column) / largest : 0);
    }
    return smallest;
  }

  function choose(onlyConstant: boolean, allowLate: boolean): readonly [number, number] | null {
    let best: readonly [number, number] | null = null;
    let least = Infinity;
    let bestSize = 0;
    for (let i = 0; i < size; i++) {
      if (!rowLeft[i]) continue;
      for (let j = 0; j < size; j++) {
        if (!columnLeft[j] || !filled[i * size + j] || (late[j] && !allowLate)) continue;
        if (onlyConstant && (varyingCounts.row[i]! > 0 || varyingCounts.column[j]! > 0)) continue;
        const spread = (counts.row[i]! - 1) * (counts.column[j]! - 1);
        if (spread > least || (onlyConstant && spread > spreadAllowed)) continue;
        const relative = relativeSize(i, j);
        if (relative < threshold || (spread === least && relative <= bestSize)) continue;
        best = [i, j];
        least = spread;
        bestSize = relative;
      }
    }
    return best;
  }

  let constants = true;
  for (let k = 0; k < size; k++) {
    count(filled, counts.row, counts.column);
    count(varying, varyingCounts.row, varyingCounts.column);
    let pivot = constants ? choose(true, false) : null;
    if (!pivot) {
      constants = false;
      pivot = choose(false, false) ?? choose(false, true);
    } else order.constant++;
    if (!pivot) return null;
    const [row, column] = pivot;
    order.rows[k] = row;
    order.columns[k] = column;
    rowLeft[row] = 0;
    columnLeft[column] = 0;
    for (let i = 0; i < size; i++) {
      if (!rowLeft[i] || !filled[i * size + column]) continue;
      for (let j = 0; j < size; j++) {
        if (!columnLeft[j] || !filled[row * size + j]) continue;
        const at = i * size + j;
        filled[at] = 1;
        if (varying[i * size + column] || varying[row * size + j] || varying[row * size + column]) varying[at] = 1;
        for (const values of dense) eliminate(values, at, i * size + column, row * size + j, row * size + column);
      }
    }
  }
  return order;
}

function scattered({ size, rows, columns }: Pattern, values: Float64Array): Float64Array {
  const dense = new Float64Array(2 * size * size);
  rows.forEach((row, k) => {
    const at = row * size + columns[k]!;
    dense[2 * at] = values[2 * k]!;
    dense[2 * at + 1] = values[2 * k + 1]!;
  });
  return dense;
}

function modulus(values: Float64Array, at: number): number {
  return Math.abs(values[2 * at]!) + Math.abs(values[2 * at + 1]!);
}

/** values[at] −= values[left] · values[up] / values[pivot]. */
function eliminate(values: Float64Array, at: number, left: number, up: number, pivot: number): void {
  const [lr, li, ur, ui] = [values[2 * left]!, values[2 * left + 1]!, values[2 * up]!, values[2 * up + 1]!];
  const [pr, pi] = [values[2 * pivot]!, values[2 * pivot + 1]!];
  const norm = pr * pr + pi * pi;
  const [tr, ti] = [(lr * pr + li * pi) / norm, (li * pr - lr * pi) / norm];
  values[2 * at] = values[2 * at]! - (tr * ur - ti * ui);
  values[2 * at + 1] = values[2 * at + 1]! - (tr * ui + ti * ur);
}
