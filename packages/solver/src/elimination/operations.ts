import type { Factors } from './factors.ts';

/**
 * Elimination as a list of integers that a kernel runs over slots; a slot holds one number, or one for each lane of a block.
 *   end · subtract s n (d a)×n: d ← d − s·a · scale a b: a ← a·b · invert a: a ← 1/a
 *   subtractReal: the same as subtract where no a has an imaginary part
 *   product n (d a b e f)×n: d ← (a − b)·(e − f)
 *   constant n a×n: a ← G of its slot · linear n (a v)×n: a ← G of its slot + ω·D of place v + jω·C of place v
 */
export const operation = {
  end: 0,
  subtract: 1,
  scale: 2,
  invert: 3,
  constant: 4,
  linear: 5,
  subtractReal: 6,
  product: 7,
} as const;

/** Every slot that the eliminating operations of a program read or write. */
export function usedSlots(program: readonly number[]): Set<number> {
  const used = new Set<number>();
  for (let at = 0; at < program.length;) {
    const length =
      program[at] === operation.subtract ? 2 + 2 * program[at + 2]! : program[at] === operation.scale ? 2 : 1;
    for (let k = 1; k <= length; k++) if (!(program[at] === operation.subtract && k === 2)) used.add(program[at + k]!);
    at += 1 + length;
  }
  return used;
}

/** Turns entries into factors from pivot `from` up to `to`: L below the pivots, their inverses on them, U right of them. */
export function factorOperations(factors: Factors, from: number, to: number): number[] {
  const { order, below, right, entryAt, pattern } = factors;
  const at = (row: number, column: number): number => entryAt[row * pattern.size + column]!;
  const program: number[] = [];
  for (let k = from; k < to; k++) {
    const [row, column] = [order.rows[k]!, order.columns[k]!];
    const pivot = at(row, column);
    program.push(operation.invert, pivot);
    for (const i of below[k]!) {
      program.push(operation.scale, at(i, column), pivot);
      pushSubtract(
        program,
        at(i, column),
        right[k]!.map((j) => [at(i, j), at(row, j)]),
      );
    }
  }
  return program;
}

/** A right side: in which of its places it is not zero, and which unknowns are wanted of the solution. */
export interface Side {
  /** Slot of its first place; its place k belongs to pivot k. */
  readonly slot: number;
  /** Solves Aᵀ y = c instead of A x = b. */
  readonly transposed: boolean;
  /** Rows of b (columns of c) that are not zero. */
  readonly entries: readonly number[];
  /** Columns of x (rows of y). */
  readonly wanted: readonly number[];
}

/** Slot of an unknown of the solution, or of an entry of the right side before. */
export function sideSlot(
  { pivotOfRow, pivotOfColumn }: Factors,
  side: Side,
  which: 'entry' | 'unknown',
  line: number,
): number {
  const byRow = (which === 'entry') !== side.transposed;
  return side.slot + (byRow ? pivotOfRow : pivotOfColumn)[line]!;
}

/** Places of a side that are not zero once all pivots before `until` have been carried through it. */
function reachOf(factors: Factors, side: Side, until: number): Uint8Array {
  const { pattern, pivotOfRow, pivotOfColumn } = factors;
  const reached = new Uint8Array(pattern.size);
  for (const line of side.entries) reached[(side.transposed ? pivotOfColumn : pivotOfRow)[line]!] = 1;
  for (let k = 0; k < until; k++) if (reached[k]) for (const later of carriedTo(factors, side, k)) reached[later] = 1;
  return reached;
}

/** Carries a side through the pivots `from` up to `to`: L for A x = b; inverse pivots and Uᵀ for the transposed. */
export function forwardOperations(factors: Factors, side: Side, from: number, to: number): number[] {
  const reached = reachOf(factors, side, to);
  const program: number[] = [];
  for (let k = from; k < to; k++) {
    if (!reached[k]) continue;
    if (side.transposed) program.push(operation.scale, side.slot + k, pivotEntry(factors, k));
    pushSubtract(
      program,
      side.slot + k,
      carriedTo(factors, side, k).map((later) => [side.slot + later, coupling(factors, side.transposed, k, later)]),
    );
  }
  return program;
}

/** Back from the last pivot to the first, as far as the wanted unknowns need it; what no earlier step reached counts as zero. */
export function backwardOperations(factors: Factors, side: Side): number[] {
  const { size } = factors.pattern;
  const needed = new Uint8Array(size);
  for (const line of side.wanted) needed[(side.transposed ? factors.pivotOfRow : factors.pivotOfColumn)[line]!] = 1;
  for (let k = 0; k < size; k++) if (needed[k]) for (const later of neededBy(factors, side, k)) needed[later] = 1;
  const program: number[] = [];
  const reached = reachOf(factors, side, size);
  for (let k = size - 1; k >= 0; k--) {
    if (!needed[k]) continue;
    const feeds: number[] = [];
    for (let earlier = 0; earlier < k; earlier++) {
      if (needed[earlier] && neededBy(factors, side, earlier).includes(k)) feeds.push(earlier);
    }
    if (!reached[k]) continue;
    for (const earlier of feeds) reached[earlier] = 1;
    if (!side.transposed) program.push(operation.scale, side.slot + k, pivotEntry(factors, k));
    pushSubtract(
      program,
      side.slot + k,
      feeds.map((earlier) => [side.slot + earlier, coupling(factors, !side.transposed, earlier, k)]),
    );
  }
  return program;
}

function pivotEntry({ order, entryAt, pattern }: Factors, k: number): number {
  return entryAt[order.rows[k]! * pattern.size + order.columns[k]!]!;
}

/** Entry between pivot k and a later one: in U (row of k) or in L (column of k). */
function coupling({ order, entryAt, pattern }: Factors, inU: boolean, k: number, later: number): number {
  const [row, column] = inU ? [order.rows[k]!, order.columns[later]!] : [order.rows[later]!, order.columns[k]!];
  return entryAt[row * pattern.size + column]!;
}

/** Later places that a place of the side is carried to on the way forward. */
function carriedTo(factors: Factors, { transposed }: Side, k: number): number[] {
  return laterOf(factors, transposed, k);
}

/** Later places that a place of the solution needs on the way back. */
function neededBy(factors: Factors, { transposed }: Side, k: number): number[] {
  return laterOf(factors, !transposed, k);
}

function laterOf({ below, right, pivotOfRow, pivotOfColumn }: Factors, inU: boolean, k: number): number[] {
  return inU ? right[k]!.map((j) => pivotOfColumn[j]!) : below[k]!.map((i) => pivotOfRow[i]!);
}

function pushSubtract(program: number[], from: number, pairs: readonly (readonly [number, number])[]): void {
  if (pairs.length > 0) program.push(operation.subtract, from, pairs.length, ...pairs.flat());
}
