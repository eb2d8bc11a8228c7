import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wasmKernel } from '../src/elimination/wasm-kernel.ts';
import {
  complexLu,
  createSweep,
  lanes,
  realElimination,
  realLu,
  sweepPlan,
  sweepResidual,
  type Pattern,
  type SweepPlan,
} from '../src/index.ts';

const eps = Number.EPSILON;

/** A sparse system as circuits give: a diagonal that carries its row, branch rows without one, values over six decades. */
interface System {
  readonly pattern: Pattern;
  readonly conductance: Float64Array;
  readonly capacitance: Float64Array;
  readonly loss: Float64Array;
}

const systems = fc
  .record({
    size: fc.integer({ min: 1, max: 14 }),
    numbers: fc.infiniteStream(fc.double({ min: -1, max: 1, noNaN: true })),
  })
  .map(({ size, numbers }): System => {
    const draw = (): number => numbers.next().value as number;
    const rows: number[] = [];
    const columns: number[] = [];
    const values: { g: number; c: number; d: number }[] = [];
    const branches = size > 3 ? 1 : 0;
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) {
        const isBranch = i >= size - branches || j >= size - branches;
        const onDiagonal = i === j && !isBranch;
        if (!onDiagonal && (isBranch ? Math.abs(i - j) !== 1 : draw() < 0.4)) continue;
        rows.push(i);
        columns.push(j);
        const varies = !isBranch && draw() > 0;
        values.push({
          g: onDiagonal ? size + draw() : isBranch ? 1 : draw(),
          c: varies ? draw() * 1e-3 : 0,
          d: varies && draw() > 0.5 ? Math.abs(draw()) * 1e-4 : 0,
        });
      }
    }
    return {
      pattern: { size, rows: Int32Array.from(rows), columns: Int32Array.from(columns) },
      conductance: Float64Array.from(values, ({ g }) => g),
      capacitance: Float64Array.from(values, ({ c }) => c),
      loss: Float64Array.from(values, ({ d }) => d),
    };
  });

const omegas = Float64Array.from({ length: lanes }, (_, k) => 10 ** (k - 2));

function sampleAt({ conductance, capacitance, loss }: System, omega: number): Float64Array {
  const sample = new Float64Array(2 * conductance.length);
  conductance.forEach((g, k) => {
    sample[2 * k] = g + omega * loss[k]!;
    sample[2 * k + 1] = omega * capacitance[k]!;
  });
  return sample;
}

/** Row-major, as complexLu takes it. */
function dense({ pattern }: System, sample: Float64Array): Float64Array {
  const matrix = new Float64Array(2 * pattern.size * pattern.size);
  pattern.rows.forEach((row, k) => {
    const at = 2 * (row * pattern.size + pattern.columns[k]!);
    matrix[at] = sample[2 * k]!;
    matrix[at + 1] = sample[2 * k + 1]!;
  });
  return matrix;
}

function planFor(system: System, entry: number, column: number): SweepPlan | null {
  const { pattern, capacitance, loss } = system;
  const lines = Array.from({ length: pattern.size }, (_, i) => i);
  return sweepPlan({
    pattern,
    constant: Uint8Array.from(capacitance, (c, k) => (c === 0 && loss[k] === 0 ? 1 : 0)),
    samples: [sampleAt(system, omegas[0]!), sampleAt(system, 1), sampleAt(system, omegas[lanes - 1]!)],
    sides: [
      { entry, transposed: false, wanted: 'all' },
      { entry: column, transposed: true, wanted: 'all' },
      { entry, transposed: false, wanted: [column] },
    ],
    products: lines.map((i) => ({ columns: [i, -1], rows: [-1, i] })),
  });
}

function solved(plan: SweepPlan, system: System, kernelOf?: typeof wasmKernel): ReturnType<typeof createSweep> {
  const sweep = createSweep(plan, kernelOf);
  sweep.conductance.set(system.conductance);
  sweep.capacitance.set(system.capacitance);
  sweep.loss.set(system.loss);
  sweep.prepare();
  sweep.omega.set(omegas);
  sweep.solveBlock();
  return sweep;
}

describe('a sweep', () => {
  it('agrees with the dense solver that exchanges rows, straight and transposed, at every lane', () => {
    fc.assert(
      fc.property(systems, fc.nat(), fc.nat(), (system, a, b) => {
        const { size } = system.pattern;
        const [entry, column] = [a % size, b % size];
        const plan = planFor(system, entry, column);
        if (!plan) return;
        const sweep = solved(plan, system);
        const lu = complexLu(size);
        for (let lane = 0; lane < lanes; lane++) {
          lu.matrix.set(dense(system, sampleAt(system, omegas[lane]!)));
          if (lu.factor() >= 0) continue;
          const x = new Float64Array(2 * size);
          x[2 * entry] = 1;
          lu.solve(x);
          const y = new Float64Array(2 * size);
          y[2 * column] = 1;
          lu.solveTransposed(y);
          const read = (side: number, line: number): [number, number] => {
            const at = sweep.placeOf(side, line) + lane;
            return [sweep.slots[at]!, sweep.slots[at + lanes]!];
          };
          const scaleX = Math.max(...x.map(Math.abs));
          const scaleY = Math.max(...y.map(Math.abs));
          for (let i = 0; i < size; i++) {
            // Diagonals dominate within a factor of a few: condition below 1e4, growth below 1e3 (threshold 1e-3).
            expect(Math.hypot(read(0, i)[0] - x[2 * i]!, read(0, i)[1] - x[2 * i + 1]!)).toBeLessThan(
              1e7 * eps * scaleX,
            );
            expect(Math.hypot(read(1, i)[0] - y[2 * i]!, read(1, i)[1] - y[2 * i + 1]!)).toBeLessThan(
              1e7 * eps * scaleY,
            );
            const at = sweep.placeOfProduct(i) + lane;
            const product = -(read(0, i)[0] * read(1, i)[0] - read(0, i)[1] * read(1, i)[1]);
            expect(Math.abs(sweep.slots[at]! - product)).toBeLessThanOrEqual(8 * eps * scaleX * scaleY);
          }
          expect(read(2, column)).toEqual(read(0, column));
        }
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });

  it('gives the same digits with and without WebAssembly', () => {
    fc.assert(
      fc.property(systems, (system) => {
        const plan = planFor(system, 0, system.pattern.size - 1);
        if (!plan) return;
        expect(solved(plan, system, () => null).slots).toEqual(solved(plan, system, wasmKernel).slots);
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });

  it('runs as WebAssembly here', () => {
    const plan = planFor(
      {
        pattern: { size: 1, rows: Int32Array.of(0), columns: Int32Array.of(0) },
        conductance: Float64Array.of(2),
        capacitance: Float64Array.of(0),
        loss: Float64Array.of(0),
      },
      0,
      0,
    );
    expect(plan && wasmKernel(plan.blockProgram, { slots: plan.slots, varying: plan.varying })).not.toBeNull();
  });

  it('says by its residual when the values no longer suit the order', () => {
    // [[g, 1], [1, 1.5]]: planned with g = 2 on the diagonal; with g = 1e-17 the fixed pivot g destroys the second row.
    const pattern: Pattern = { size: 2, rows: Int32Array.of(0, 0, 1, 1), columns: Int32Array.of(0, 1, 0, 1) };
    const system = (g: number): System => ({
      pattern,
      conductance: Float64Array.of(g, 1, 1, 1.5),
      capacitance: new Float64Array(4),
      loss: new Float64Array(4),
    });
    const plan = sweepPlan({
      pattern,
      constant: new Uint8Array(4),
      samples: [sampleAt(system(2), 1)],
      sides: [{ entry: 0, transposed: false, wanted: 'all' }],
    })!;
    const worst = (g: number): number => {
      const sweep = createSweep(plan);
      sweep.conductance.set(system(g).conductance);
      sweep.prepare();
      sweep.omega.fill(1);
      sweep.solveBlock();
      return sweepResidual(plan, sweep).worst(0, 0);
    };
    expect(worst(2)).toBeLessThan(4 * eps);
    expect(worst(1e-17)).toBeGreaterThan(1e-3);
    expect(worst(0)).toBe(Infinity);
  });

  it('has no plan for a singular matrix', () => {
    const pattern: Pattern = { size: 2, rows: Int32Array.of(0, 1), columns: Int32Array.of(0, 0) };
    const system: System = {
      pattern,
      conductance: Float64Array.of(1, 1),
      capacitance: new Float64Array(2),
      loss: new Float64Array(2),
    };
    expect(planFor(system, 0, 0)).toBeNull();
  });
});

describe('real elimination', () => {
  it('agrees with the dense solver on values unlike those it was analysed for', () => {
    fc.assert(
      fc.property(systems, fc.infiniteStream(fc.double({ min: 0.5, max: 2, noNaN: true })), (system, factors) => {
        const { pattern, conductance } = system;
        const { size } = pattern;
        const elimination = realElimination(pattern, conductance);
        if (!elimination) return;
        const values = conductance.map((g) => (Math.abs(g) === 1 ? g : g * (factors.next().value as number)));
        const lu = realLu(size);
        pattern.rows.forEach((row, k) => (lu.matrix[row * size + pattern.columns[k]!] = values[k]!));
        if (lu.factor() >= 0) return;
        const expected = Float64Array.from({ length: size }, (_, i) => i + 1);
        lu.solve(expected);
        const x = Float64Array.from({ length: size }, (_, i) => i + 1);
        elimination.solve(values, x);
        const scale = Math.max(...expected.map(Math.abs));
        // Same reasons as above; the drawn factors of 4 may cost two more digits.
        for (let i = 0; i < size; i++) expect(Math.abs(x[i]! - expected[i]!)).toBeLessThan(1e9 * eps * scale);
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });
});
