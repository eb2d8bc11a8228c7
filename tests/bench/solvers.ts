import { complex, lusolve, type Complex } from 'mathjs';
import { LuDecomposition, Matrix } from 'ml-matrix';
import { frequencySolver } from '@curvewright/network';
import { createSweep, lanes, sweepPlan, type Sweep } from '@curvewright/solver';
import { benchFrequencies, type BenchCase } from './demo-cases.ts';

/** Solves a board of a case at every bench frequency, matrices filled anew; returns something of the solution. */
export type BoardSolver = (board: number) => number;

const omegas = benchFrequencies.map((hz) => 2 * Math.PI * hz);

function sampleAt({ boards, pattern }: BenchCase, omega: number): Float64Array {
  const { conductance, capacitance, loss } = boards[0]!;
  const sample = new Float64Array(2 * pattern.rows.length);
  conductance.forEach((g, k) => {
    sample[2 * k] = g + omega * loss[k]!;
    sample[2 * k + 1] = omega * capacitance[k]!;
  });
  return sample;
}

/** The sweep engine: all unknowns of A x = b; with `adjoint` also those of Aᵀ y = c and the product for every entry. */
export function engineSweep(bench: BenchCase, adjoint: boolean): Sweep {
  const { pattern, constant, entry, output } = bench;
  const plan = sweepPlan({
    pattern,
    constant,
    samples: [omegas[0]!, omegas[100]!, omegas[199]!].map((omega) => sampleAt(bench, omega)),
    sides: [
      { entry, transposed: false, wanted: 'all' },
      ...(adjoint ? [{ entry: output, transposed: true, wanted: 'all' as const }] : []),
    ],
    ...(adjoint ? { products: entryProducts(bench) } : {}),
  });
  if (!plan) throw new Error('the demo board is singular');
  return createSweep(plan);
}

/** dx(output)/dA(row, column) = −y(row) · x(column), for every entry of the matrix. */
function entryProducts({ pattern }: BenchCase): { columns: [number, number]; rows: [number, number] }[] {
  return [...pattern.rows].map((row, k) => ({ columns: [pattern.columns[k]!, -1], rows: [row, -1] }));
}

export function engineSolver(bench: BenchCase, sweep: Sweep): BoardSolver {
  const read = sweep.placeOf(0, bench.output);
  return (board) => {
    const { conductance, capacitance, loss } = bench.boards[board % bench.boards.length]!;
    sweep.conductance.set(conductance);
    sweep.capacitance.set(capacitance);
    sweep.loss.set(loss);
    sweep.prepare();
    let sum = 0;
    for (let first = 0; first < omegas.length; first += lanes) {
      for (let k = 0; k < lanes; k++) sweep.omega[k] = omegas[first + k]!;
      sweep.solveBlock();
      sum += sweep.slots[read]!;
    }
    return sum;
  };
}

/** ml-matrix on the real form of twice the size, at every `stride`-th frequency. */
export function mlMatrixSolver({ pattern, boards, entry }: BenchCase, stride: number): BoardSolver {
  const { size, rows, columns } = pattern;
  return (board) => {
    const { conductance, capacitance, loss } = boards[board % boards.length]!;
    let sum = 0;
    for (let n = 0; n < omegas.length; n += stride) {
      const omega = omegas[n]!;
      const matrix = Matrix.zeros(2 * size, 2 * size);
      for (let k = 0; k < rows.length; k++) {
        const [i, j] = [rows[k]!, columns[k]!];
        const re = conductance[k]! + omega * loss[k]!;
        const im = omega * capacitance[k]!;
        matrix.set(i, j, re);
        matrix.set(i + size, j + size, re);
        matrix.set(i, j + size, -im);
        matrix.set(i + size, j, im);
      }
      const side = Matrix.zeros(2 * size, 1);
      side.set(entry, 0, 1);
      sum += new LuDecomposition(matrix).solve(side).get(0, 0);
    }
    return sum;
  };
}

export function mathjsSolver({ pattern, boards, entry }: BenchCase, stride: number): BoardSolver {
  const { size, rows, columns } = pattern;
  return (board) => {
    const { conductance, capacitance, loss } = boards[board % boards.length]!;
    let sum = 0;
    for (let n = 0; n < omegas.length; n += stride) {
      const omega = omegas[n]!;
      const matrix = Array.from({ length: size }, () => Array.from({ length: size }, () => complex(0, 0)));
      for (let k = 0; k < rows.length; k++) {
        matrix[rows[k]!]![columns[k]!] = complex(conductance[k]! + omega * loss[k]!, omega * capacitance[k]!);
      }
      const side = Array.from({ length: size }, (_, i) => complex(i === entry ? 1 : 0, 0));
      // It compares pivots with an absolute tolerance and calls some of these matrices singular; the time until then still counts.
      try {
        const x = lusolve(matrix as never, side) as unknown as Complex[][];
        sum += x[0]![0]!.re;
      } catch {
        sum += 0;
      }
    }
    return sum;
  };
}

/** Largest difference of the engine's unknowns from the reference with row exchanges, over the largest unknown of the same frequency. */
export function worstEngineError(bench: BenchCase, sweep: Sweep): number {
  const { size } = bench.pattern;
  let worst = 0;
  for (const { small, conductance, capacitance, loss } of bench.boards) {
    const reference = frequencySolver(small);
    sweep.conductance.set(conductance);
    sweep.capacitance.set(capacitance);
    sweep.loss.set(loss);
    sweep.prepare();
    for (let first = 0; first < omegas.length; first += lanes) {
      for (let k = 0; k < lanes; k++) sweep.omega[k] = omegas[first + k]!;
      sweep.solveBlock();
      for (let k = 0; k < lanes; k++) {
        const x = new Float64Array(2 * size);
        x[2 * bench.entry] = 1;
        reference.setFrequency(benchFrequencies[first + k]!);
        reference.solve(x);
        const scale = Math.max(...x.map(Math.abs));
        for (let i = 0; i < size; i++) {
          const at = sweep.placeOf(0, i) + k;
          const gap = Math.hypot(sweep.slots[at]! - x[2 * i]!, sweep.slots[at + lanes]! - x[2 * i + 1]!);
          worst = Math.max(worst, gap / scale);
        }
      }
    }
  }
  return worst;
}
