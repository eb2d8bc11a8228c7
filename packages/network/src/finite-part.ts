import type { Pencil } from './state-basis.ts';

/** A difference this small against what it is taken of is rounding: eps with room for a few hundred operations. */
const rounding = 2 ** -44;

/**
 * The part of G + s·C that has the finite eigenvalues: a smaller pencil whose C is regular. Rows without C are equations between the unknowns
 * and eliminate one unknown each; what is left is asked again (after Luenberger's shuffle, Automatica 14, 1978). Differences that cancel to
 * rounding are zero, so that what is structurally singular stays so. Null where the pencil is singular for every s.
 */
export function finitePart(pencil: Pencil): Pencil | null {
  let { g, c } = equilibrated(pencil);
  for (;;) {
    const { dynamic, algebraic } = splitRows(g, c);
    if (algebraic.length === 0) return joined(g, c);
    const reduced = eliminate(dynamic, algebraic);
    if (reduced === null) return null;
    ({ g, c } = reduced);
  }
}

type Row = Float64Array;

interface Rows {
  readonly g: readonly Row[];
  readonly c: readonly Row[];
}

interface TwoSided {
  readonly g: Row;
  readonly c: Row;
}

function joined(g: readonly Row[], c: readonly Row[]): Pencil {
  const size = g.length;
  const [conductance, capacitance] = [new Float64Array(size * size), new Float64Array(size * size)];
  for (let i = 0; i < size; i++) {
    conductance.set(g[i]!, i * size);
    capacitance.set(c[i]!, i * size);
  }
  return { size, conductance, capacitance };
}

/** Rows and columns scaled by powers of two until the largest entries of G stand near 1; where G has none, those of C. */
function equilibrated({ size, conductance, capacitance }: Pencil): Rows {
  const g = Array.from({ length: size }, (_, i) => conductance.slice(i * size, (i + 1) * size));
  const c = Array.from({ length: size }, (_, i) => capacitance.slice(i * size, (i + 1) * size));
  const scale = (count: number, entry: (m: readonly Row[], k: number) => number): number => {
    for (const m of [g, c]) {
      let largest = 0;
      for (let k = 0; k < count; k++) largest = Math.max(largest, Math.abs(entry(m, k)));
      if (largest > 0) return 2 ** -Math.round(Math.log2(largest) / 2);
    }
    return 1;
  };
  for (let sweep = 0; sweep < 3; sweep++) {
    for (let i = 0; i < size; i++) {
      const by = scale(size, (m, k) => m[i]![k]!);
      for (let k = 0; k < size; k++) {
        g[i]![k] = g[i]![k]! * by;
        c[i]![k] = c[i]![k]! * by;
      }
    }
    for (let j = 0; j < size; j++) {
      const by = scale(size, (m, k) => m[k]![j]!);
      for (let k = 0; k < size; k++) {
        g[k]![j] = g[k]![j]! * by;
        c[k]![j] = c[k]![j]! * by;
      }
    }
  }
  return { g, c };
}

/** target −= factor · row, with what cancels to rounding set to zero. */
function subtract(target: Row, factor: number, row: Row): void {
  if (factor === 0) return;
  for (let k = 0; k < target.length; k++) {
    const taken = factor * row[k]!;
    if (taken === 0) continue;
    const left = target[k]! - taken;
    target[k] = Math.abs(left) <= rounding * (Math.abs(target[k]!) + Math.abs(taken)) ? 0 : left;
  }
}

/** Combines rows until as many as possible have no C: those are algebraic. Rows that keep theirs stay as they were. */
function splitRows(g: readonly Row[], c: readonly Row[]): { dynamic: TwoSided[]; algebraic: Row[] } {
  const size = g.length;
  const rest = g.map((row, i) => ({ index: i, g: row.slice(), c: c[i]!.slice() }));
  const dynamic: TwoSided[] = [];
  for (;;) {
    let [largest, pivot, column] = [0, -1, -1];
    rest.forEach((row, i) => {
      for (let j = 0; j < size; j++) {
        const entry = Math.abs(row.c[j]!);
        if (entry > largest) [largest, pivot, column] = [entry, i, j];
      }
    });
    if (pivot < 0) break;
    const [chosen] = rest.splice(pivot, 1) as [(typeof rest)[number]];
    dynamic.push({ g: g[chosen.index]!.slice(), c: c[chosen.index]!.slice() });
    for (const row of rest) {
      const factor = row.c[column]! / chosen.c[column]!;
      subtract(row.c, factor, chosen.c);
      subtract(row.g, factor, chosen.g);
      row.c[column] = 0;
    }
  }
  return { dynamic, algebraic: rest.map((row) => row.g) };
}

/** Each algebraic row gives one unknown by the others, one without C where there is any; null where rows say the same twice. */
function eliminate(dynamic: TwoSided[], algebraic: Row[]): Rows | null {
  const size = dynamic.length + algebraic.length;
  const free = new Set(Array.from({ length: size }, (_, j) => j));
  const still = Array.from({ length: size }, (_, j) => dynamic.every(({ c }) => c[j] === 0));
  const rest = [...algebraic];
  while (rest.length > 0) {
    const found = largestEntry(rest, (j) => free.has(j) && still[j]!) ?? largestEntry(rest, (j) => free.has(j));
    if (found === null) return null;
    const [pivotRow] = rest.splice(found.row, 1) as [Row];
    const pivot = pivotRow[found.column]!;
    for (const row of rest) {
      subtract(row, row[found.column]! / pivot, pivotRow);
      row[found.column] = 0;
    }
    for (const { g, c } of dynamic) {
      subtract(g, g[found.column]! / pivot, pivotRow);
      subtract(c, c[found.column]! / pivot, pivotRow);
      g[found.column] = 0;
      c[found.column] = 0;
    }
    free.delete(found.column);
  }
  const kept = [...free];
  const narrowed = (row: Row): Row => Float64Array.from(kept, (j) => row[j]!);
  return { g: dynamic.map(({ g }) => narrowed(g)), c: dynamic.map(({ c }) => narrowed(c)) };
}

function largestEntry(
  rows: readonly Row[],
  among: (column: number) => boolean,
): { row: number; column: number } | null {
  let largest = 0;
  let found: { row: number; column: number } | null = null;
  rows.forEach((entries, row) => {
    for (let column = 0; column < entries.length; column++) {
      const entry = Math.abs(entries[column]!);
      if (entry > largest && among(column)) {
        largest = entry;
        found = { row, column };
      }
    }
  });
  return found;
}
