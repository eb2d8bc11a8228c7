import type { Pattern } from '@curvewright/solver';
import { common, type Unknown } from './elements.ts';

/** Where the entries of a matrix between unknowns lie in a flat array. */
export interface EntryIndex {
  readonly length: number;
  /** −1 in the row or column of gnd, which has none. */
  readonly at: (row: Unknown, column: Unknown) => number;
}

/** Every entry, row-major. */
export function denseEntries(size: number): EntryIndex {
  return {
    length: size * size,
    at: (row, column) => (row === common || column === common ? -1 : row * size + column),
  };
}

/** The four places of an element between `a` and `b` that depends on the voltage from `plus` to `minus`: what it adds to, then what it takes from. */
export function fourPlaces(
  index: EntryIndex,
  [a, b]: readonly [Unknown, Unknown],
  [plus, minus]: readonly [Unknown, Unknown],
): Int32Array {
  return Int32Array.of(index.at(a, plus), index.at(b, minus), index.at(a, minus), index.at(b, plus));
}

/** Adds `value` at the first two of four places and takes it at the others. */
export function addFour(target: Float64Array, places: Int32Array, value: number): void {
  const [a, b, c, d] = [places[0]!, places[1]!, places[2]!, places[3]!];
  if (a >= 0) target[a] = target[a]! + value;
  if (b >= 0) target[b] = target[b]! + value;
  if (c >= 0) target[c] = target[c]! - value;
  if (d >= 0) target[d] = target[d]! - value;
}

/** Numbers every place that is asked for in the order in which it comes up. */
export interface EntryRecord extends EntryIndex {
  pattern(): Pattern;
}

export function recordEntries(size: number): EntryRecord {
  const numbers = new Int32Array(size * size).fill(-1);
  const rows: number[] = [];
  const columns: number[] = [];
  return {
    get length() {
      return rows.length;
    },
    at(row, column) {
      if (row === common || column === common) return -1;
      const place = row * size + column;
      if (numbers[place]! < 0) {
        numbers[place] = rows.length;
        rows.push(row);
        columns.push(column);
      }
      return numbers[place]!;
    },
    pattern: () => ({ size, rows: Int32Array.from(rows), columns: Int32Array.from(columns) }),
  };
}
