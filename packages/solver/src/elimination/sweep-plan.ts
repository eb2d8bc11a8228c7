import { symbolicFactors, type Factors } from './factors.ts';
import {
  backwardOperations,
  factorOperations,
  forwardOperations,
  operation,
  sideSlot,
  usedSlots,
  type Side,
} from './operations.ts';
import { gatherRealOperands } from './real-operands.ts';
import { pivotOrder, type Pattern } from './pivot-order.ts';

/** A right side asked of a sweep: 1 in one place, and the unknowns that are wanted of the solution. */
export interface WantedSide {
  /** Row of b in A x = b, or column of c in Aᵀ y = c, that holds 1. */
  readonly entry: number;
  readonly transposed: boolean;
  /** Unknowns by their number; 'all' for each of them. */
  readonly wanted: readonly number[] | 'all';
}

/**
 * A product of two differences, one of the first side's unknowns (x, between two columns) and one of the second's (y of the transposed
 * system, between two rows): −d(y's entry of x)/d(value between them). −1: what is always zero.
 */
export interface WantedProduct {
  readonly columns: readonly [number, number];
  readonly rows: readonly [number, number];
}

/** One pattern analysed once for many frequencies and many values: plain data. */
export interface SweepPlan {
  readonly factors: Factors;
  /** Slots of all entries and all sides. */
  readonly slots: number;
  /** Place in C and D for entries that change with frequency; −1 for the others. */
  readonly varyingAt: Int32Array;
  readonly varying: number;
  readonly sides: readonly Side[];
  /** First slot of the products. */
  readonly productSlot: number;
  /** Run over real numbers once for each set of values: eliminates what does not change with frequency. */
  readonly constantProgram: Int32Array;
  /** Run over every block of frequencies. */
  readonly blockProgram: Int32Array;
}

export interface SweepRequest {
  readonly pattern: Pattern;
  /** 1 for entries that do not change with frequency. */
  readonly constant: Uint8Array;
  /** Values at frequencies the order must be sound for: re, im of every entry. */
  readonly samples: readonly Float64Array[];
  readonly sides: readonly WantedSide[];
  /** Of the first two sides, the second transposed, both with all unknowns wanted. */
  readonly products?: readonly WantedProduct[];
}

/** Orders, finds the fill and writes the programs; null where the matrix is singular at a sample. */
export function sweepPlan({ pattern, constant, samples, sides: asked, products = [] }: SweepRequest): SweepPlan | null {
  const last = [...new Set(asked.flatMap(({ wanted, transposed }) => (wanted === 'all' || transposed ? [] : wanted)))];
  const order = pivotOrder({ pattern, samples, constant, last });
  if (!order) return null;
  const { size } = pattern;
  const factors = symbolicFactors(pattern, order);
  const every = Array.from({ length: size }, (_, i) => i);
  const sides = asked.map(({ entry, transposed, wanted }, i): Side => ({
    slot: factors.entries + i * size,
    transposed,
    entries: [entry],
    wanted: wanted === 'all' ? every : wanted,
  }));
  const zeroSlot = factors.entries + sides.length * size;
  const productSlot = zeroSlot + 1;
  const varyingAt = new Int32Array(factors.entries).fill(-1);
  let varying = 0;
  constant.forEach((is, k) => {
    if (!is) varyingAt[k] = varying++;
  });
  const constantProgram = [
    ...factorOperations(factors, 0, order.constant),
    ...sides.flatMap((side) => forwardOperations(factors, side, 0, order.constant)),
    operation.end,
  ];
  const work = [
    ...factorOperations(factors, order.constant, size),
    ...sides.flatMap((side) => [
      ...forwardOperations(factors, side, order.constant, size),
      ...backwardOperations(factors, side),
    ]),
  ];
  // What is wanted of a side but nothing reaches must still be read as zero.
  const read = sides.flatMap((side) => side.wanted.map((line) => sideSlot(factors, side, 'unknown', line)));
  const touched = [...new Set([...usedSlots(work), ...read, zeroSlot])].sort((a, b) => a - b);
  const linear = touched.filter((slot) => slot < factors.entries && varyingAt[slot]! >= 0);
  const constants = touched.filter((slot) => !(slot < factors.entries && varyingAt[slot]! >= 0));
  const unknown = (side: number, line: number): number =>
    line < 0 ? zeroSlot : sideSlot(factors, sides[side]!, 'unknown', line);
  const operandsOf = ({ columns, rows }: WantedProduct, k: number): number[] => [
    productSlot + k,
    ...columns.map((line) => unknown(0, line)),
    ...rows.map((line) => unknown(1, line)),
  ];
  const blockProgram = [
    ...(constants.length > 0 ? [operation.constant, constants.length, ...constants] : []),
    ...(linear.length > 0
      ? [operation.linear, linear.length, ...linear.flatMap((slot) => [slot, varyingAt[slot]!])]
      : []),
    ...gatherRealOperands(work, new Set(linear)),
    ...(products.length > 0 ? [operation.product, products.length, ...products.flatMap(operandsOf)] : []),
    operation.end,
  ];
  return {
    factors,
    slots: productSlot + products.length,
    varyingAt,
    varying,
    sides,
    productSlot,
    constantProgram: Int32Array.from(constantProgram),
    blockProgram: Int32Array.from(blockProgram),
  };
}
