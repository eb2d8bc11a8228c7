import type { Pattern, PivotOrder } from './pivot-order.ts';

/** What elimination in a fixed order meets: which entries stand beside each pivot, and the slot that holds each entry of the factors. */
export interface Factors {
  readonly pattern: Pattern;
  readonly order: PivotOrder;
  /** Count of entries, those of the pattern first and in its order, then what fills in. */
  readonly entries: number;
  /** Entry at (row · size + column); −1: none. */
  readonly entryAt: Int32Array;
  /** For each pivot the rows still to come that have an entry in its column, and the columns that have one in its row. */
  readonly below: readonly (readonly number[])[];
  readonly right: readonly (readonly number[])[];
  /** Which pivot a row and a column belong to. */
  readonly pivotOfRow: Int32Array;
  readonly pivotOfColumn: Int32Array;
}

export function symbolicFactors(pattern: Pattern, order: PivotOrder): Factors {
  const { size } = pattern;
  const entryAt = new Int32Array(size * size).fill(-1);
  pattern.rows.forEach((row, k) => (entryAt[row * size + pattern.columns[k]!] = k));
  let entries = pattern.rows.length;
  const pivotOfRow = new Int32Array(size);
  const pivotOfColumn = new Int32Array(size);
  for (let k = 0; k < size; k++) {
    pivotOfRow[order.rows[k]!] = k;
    pivotOfColumn[order.columns[k]!] = k;
  }
  const lines = Array.from({ length: size }, (_, i) => i);
  const below: number[][] = [];
  const right: number[][] = [];
  for (let k = 0; k < size; k++) {
    const [row, column] = [order.rows[k]!, order.columns[k]!];
    const rows = lines.filter((i) => pivotOfRow[i]! > k && entryAt[i * size + column]! >= 0);
    const columns = lines.filter((j) => pivotOfColumn[j]! > k && entryAt[row * size + j]! >= 0);
    for (const i of rows) {
      for (const j of columns) if (entryAt[i * size + j]! < 0) entryAt[i * size + j] = entries++;
    }
    below.push(rows);
    right.push(columns);
  }
  return { pattern, order, entries, entryAt, below, right, pivotOfRow, pivotOfColumn };
}
