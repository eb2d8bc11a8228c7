import { symbolicFactors } from './factors.ts';
import {
  backwardOperations,
  factorOperations,
  forwardOperations,
  operation,
  sideSlot,
  type Side,
} from './operations.ts';
import { pivotOrder, type Pattern } from './pivot-order.ts';
import { runReal } from './real-program.ts';

/** Solves real systems of one pattern in a fixed order of pivots: nothing is searched and nothing allocated after the analysis. */
export interface RealElimination {
  /**
   * Replaces b by the solution for these values of the pattern's entries; what the fixed order cannot bear shows as numbers that are not
   * finite, or as a residual.
   */
  solve(values: Float64Array, b: Float64Array): void;
}

/** Analyses a pattern for values like `sample`; null where that is singular. */
export function realElimination(pattern: Pattern, sample: Float64Array): RealElimination | null {
  const entries = pattern.rows.length;
  const complex = new Float64Array(2 * entries);
  for (let k = 0; k < entries; k++) complex[2 * k] = sample[k]!;
  const order = pivotOrder({ pattern, samples: [complex], constant: new Uint8Array(entries), last: [] });
  if (!order) return null;
  const { size } = pattern;
  const factors = symbolicFactors(pattern, order);
  const every = Array.from({ length: size }, (_, i) => i);
  const side: Side = { slot: factors.entries, transposed: false, entries: every, wanted: every };
  const program = Int32Array.from([
    ...factorOperations(factors, 0, size),
    ...forwardOperations(factors, side, 0, size),
    ...backwardOperations(factors, side),
    operation.end,
  ]);
  const slots = new Float64Array(factors.entries + size);
  const entrySlots = Int32Array.from(every, (line) => sideSlot(factors, side, 'entry', line));
  const unknownSlots = Int32Array.from(every, (line) => sideSlot(factors, side, 'unknown', line));
  return {
    solve(values, b) {
      slots.fill(0, entries, factors.entries);
      slots.set(values);
      for (let i = 0; i < size; i++) slots[entrySlots[i]!] = b[i]!;
      runReal(program, slots);
      for (let i = 0; i < size; i++) b[i] = slots[unknownSlots[i]!]!;
    },
  };
}
