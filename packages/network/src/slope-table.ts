import type { BiasSensitivities } from './bias-sensitivity.ts';
import { common, type Unknown } from './elements.ts';
import type { TermKind } from './small-signal-terms.ts';

/** How a whole network's A(ω) moves with every parameter, in flat storage for many frequencies. */
export interface SlopeTable {
  /**
   * moved[p] = yᵀ · dA(ω)/d(ln p) · x for every parameter p, the bias moving along. x, y: re, im pairs by unknown and a last pair of 0 for
   * gnd; ω in rad/s.
   */
  between(x: Float64Array, y: Float64Array, omega: number, moved: Float64Array): void;
}

const kinds: readonly TermKind[] = ['conductance', 'capacitance', 'loss'];

/** Entries of a sparse matrix, row by row: those of row i lie from `starts[i]` to `starts[i + 1]`. */
interface Rows {
  readonly starts: Int32Array;
  readonly columns: Int32Array;
  readonly values: Float64Array;
}

/** `size`: unknowns of the network. */
export function slopeTable({ parts, parameters, moves }: BiasSensitivities, size: number): SlopeTable {
  const place = (unknown: Unknown): number => 2 * (unknown === common ? size : unknown);
  const terms = parts.flatMap((part) => part.terms);
  const kind = Uint8Array.from(terms, (term) => kinds.indexOf(term.kind));
  const ends = Int32Array.from(terms.flatMap(({ row, column }) => [...row, ...column].map(place)));
  const states = parts.flatMap((part) => part.states);
  const termsOfState = rowsOf(
    parts.flatMap((part, n) => {
      const first = countBefore(parts, n, ({ terms: own }) => own.length);
      return part.states.map((_, k) =>
        part.terms.map((_, t): readonly [number, number] => [first + t, part.byState[t * part.states.length + k]!]),
      );
    }),
  );
  const termsOfParameter = rowsOf(
    parts.flatMap((part, n) => {
      const first = countBefore(parts, n, ({ terms: own }) => own.length);
      return part.parameters.map((slopes) =>
        [...slopes.terms].map((slope, t): readonly [number, number] => [first + t, slope]),
      );
    }),
  );
  const statesOfParameter = rowsOf(
    moves.map((move) => {
      const volts = (unknown: Unknown): number => (unknown === common ? 0 : move[unknown]!);
      return states.map(([plus, minus], k): readonly [number, number] => [k, volts(plus) - volts(minus)]);
    }),
  );
  const ofTerm = new Float64Array(2 * terms.length);
  const ofState = new Float64Array(2 * states.length);

  return {
    between(x, y, omega, moved) {
      for (let t = 0; t < terms.length; t++) {
        const [from, to, plus, minus] = [ends[4 * t]!, ends[4 * t + 1]!, ends[4 * t + 2]!, ends[4 * t + 3]!];
        const yr = y[from]! - y[to]!;
        const yi = y[from + 1]! - y[to + 1]!;
        const xr = x[plus]! - x[minus]!;
        const xi = x[plus + 1]! - x[minus + 1]!;
        const re = yr * xr - yi * xi;
        const im = yr * xi + yi * xr;
        const factor = kind[t] === 0 ? 1 : omega;
        const turned = kind[t] === 1;
        ofTerm[2 * t] = factor * (turned ? -im : re);
        ofTerm[2 * t + 1] = factor * (turned ? re : im);
      }
      ofState.fill(0);
      addProducts(termsOfState, ofTerm, ofState);
      moved.fill(0, 0, 2 * parameters.length);
      addProducts(termsOfParameter, ofTerm, moved);
      addProducts(statesOfParameter, ofState, moved);
    },
  };
}

/** target += rows · source, complex pairs. */
function addProducts({ starts, columns, values }: Rows, source: Float64Array, target: Float64Array): void {
  for (let i = 0; i + 1 < starts.length; i++) {
    let re = target[2 * i]!;
    let im = target[2 * i + 1]!;
    for (let n = starts[i]!; n < starts[i + 1]!; n++) {
      const column = 2 * columns[n]!;
      const value = values[n]!;
      re += value * source[column]!;
      im += value * source[column + 1]!;
    }
    target[2 * i] = re;
    target[2 * i + 1] = im;
  }
}

/** Leaves zeros out. */
function rowsOf(rows: readonly (readonly (readonly [number, number])[])[]): Rows {
  const filled = rows.map((row) => row.filter(([, value]) => value !== 0));
  const starts = Int32Array.from([0, ...filled.map((_, i) => countBefore(filled, i + 1, (row) => row.length))]);
  const entries = filled.flat();
  return {
    starts,
    columns: Int32Array.from(entries, ([column]) => column),
    values: Float64Array.from(entries, ([, value]) => value),
  };
}

function countBefore<T>(list: readonly T[], before: number, count: (each: T) => number): number {
  return list.slice(0, before).reduce((sum, each) => sum + count(each), 0);
}
