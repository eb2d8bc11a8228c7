import { common, type Unknown } from './elements.ts';
import type { Network } from './network.ts';
import type { OperatingPoint } from './bias.ts';
import { visitSmallSignalTerms, type Pair, type TermKind } from './small-signal-terms.ts';

/** G + s·C with real row-major size × size matrices. */
export interface Pencil {
  readonly size: number;
  readonly conductance: Float64Array;
  readonly capacitance: Float64Array;
}

/** One term of the linearised network with its part. */
export interface Term {
  readonly kind: TermKind;
  readonly ref: string;
  readonly row: Pair;
  readonly column: Pair;
  readonly value: number;
}

/**
 * The linearised network in the voltages of a tree of its capacitances, the largest ones first (the proper tree of Bryant, Proc. IEE 106C,
 * 1959; Kuh & Rohrer, Proc. IEEE 53, 1965), and one voltage for each island of capacitors without a way to gnd. Assembled term by term in
 * these coordinates, so that a large conductance across an inner node, or a large capacitor on an island, never hides a small one by rounding.
 */
export interface StateBasis extends Pencil {
  readonly terms: readonly Term[];
  /** How many rows and columns of `capacitance` are not all zero: its rank. */
  readonly states: number;
  /** The coordinates in which a difference of two unknowns is written, and its coefficients. */
  difference(pair: Pair): readonly Coefficient[];
  /** Back to the network's unknowns: complex (re, im pairs). */
  toUnknowns(coordinates: Float64Array): Float64Array;
}

export interface Coefficient {
  readonly at: number;
  readonly factor: number;
}

export function stateBasis(network: Network, point: OperatingPoint): StateBasis {
  const { size } = network;
  const terms: Term[] = [];
  visitSmallSignalTerms(network, point, (kind, ref, row, column, value) => {
    if (value !== 0) terms.push({ kind, ref, row, column, value });
  });
  const { parent, order, states } = capacitorForest(size, terms);
  const difference = ([a, b]: Pair): readonly Coefficient[] => {
    const [fromA, fromB] = [pathOf(a, parent), pathOf(b, parent)];
    return [
      ...fromA.filter((at) => !fromB.includes(at)).map((at) => ({ at, factor: 1 })),
      ...fromB.filter((at) => !fromA.includes(at)).map((at) => ({ at, factor: -1 })),
    ];
  };
  const conductance = new Float64Array(size * size);
  const capacitance = new Float64Array(size * size);
  for (const { kind, row, column, value } of terms) {
    if (kind === 'loss') throw new Error('a loss that grows with frequency has no poles; compile with loss in series');
    const target = kind === 'conductance' ? conductance : capacitance;
    const across = difference(column);
    for (const { at: i, factor: fi } of difference(row)) {
      for (const { at: j, factor: fj } of across) target[i * size + j] = target[i * size + j]! + fi * fj * value;
    }
  }
  return {
    size,
    conductance,
    capacitance,
    terms,
    states,
    difference,
    toUnknowns(coordinates) {
      const x = coordinates.slice();
      for (const u of order) {
        const above = parent[u]!;
        if (above === common) continue;
        x[2 * u] = x[2 * u]! + x[2 * above]!;
        x[2 * u + 1] = x[2 * u + 1]! + x[2 * above + 1]!;
      }
      return x;
    },
  };
}

/** From an unknown up to gnd or to the head of its island. */
function pathOf(unknown: Unknown, parent: Int32Array): readonly Unknown[] {
  const path: Unknown[] = [];
  for (let u = unknown; u !== common; u = parent[u]!) path.push(u);
  return path;
}

interface Forest {
  /** The unknown that an unknown hangs on; `common`: on gnd, or on nothing. */
  readonly parent: Int32Array;
  /** Every unknown after the one it hangs on. */
  readonly order: readonly Unknown[];
  readonly states: number;
}

/** Kruskal's tree of largest capacitances, each tree hung on gnd or on its first unknown. */
function capacitorForest(size: number, terms: readonly Term[]): Forest {
  const group = Int32Array.from({ length: size + 1 }, (_, i) => i);
  const groupOf = (u: Unknown): number => {
    let at = u === common ? size : u;
    while (group[at] !== at) at = group[at]!;
    return at;
  };
  const neighbours: Unknown[][] = Array.from({ length: size + 1 }, () => []);
  const storing = terms
    .filter(({ kind }) => kind === 'capacitance')
    .toSorted((a, b) => Math.abs(b.value) - Math.abs(a.value));
  let states = 0;
  for (const { row, column } of storing) {
    if (row[0] !== column[0] || row[1] !== column[1]) throw new Error('a charge that another voltage controls');
    const [a, b] = row;
    const [first, second] = [groupOf(a), groupOf(b)];
    if (first === second) continue;
    group[first] = second;
    states++;
    neighbours[a === common ? size : a]!.push(b);
    neighbours[b === common ? size : b]!.push(a);
  }
  const parent = new Int32Array(size).fill(common);
  const order: Unknown[] = [];
  const met = new Uint8Array(size);
  const hang = (from: Unknown): void => {
    for (const u of neighbours[from === common ? size : from]!) {
      if (u === common || met[u]) continue;
      met[u] = 1;
      parent[u] = from;
      order.push(u);
      hang(u);
    }
  };
  hang(common);
  for (let u = 0; u < size; u++) {
    if (met[u]) continue;
    met[u] = 1;
    order.push(u);
    hang(u);
  }
  return { parent, order, states };
}
