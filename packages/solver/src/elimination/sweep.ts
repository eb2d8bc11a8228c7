import { lanes, plainKernel, type Kernel } from './plain-kernel.ts';
import { sideSlot } from './operations.ts';
import { runReal } from './real-program.ts';
import type { SweepPlan } from './sweep-plan.ts';
import { wasmKernel } from './wasm-kernel.ts';

/** Solves one pattern for a block of frequencies at a time; write G, C, D, call `prepare`, then a block after the other. */
export interface Sweep {
  /** Values of the pattern's entries: A(ω) = G + ω·D + jω·C. */
  readonly conductance: Float64Array;
  readonly capacitance: Float64Array;
  readonly loss: Float64Array;
  /** Eliminates what does not change with frequency. */
  prepare(): void;
  /** rad/s of the block's lanes. */
  readonly omega: Float64Array;
  /** Solves all sides of the plan at the frequencies in `omega`. */
  solveBlock(): void;
  /** Where an unknown of a side stands in `slots`: re of the lanes, then im of the lanes. */
  placeOf(side: number, unknown: number): number;
  /** Where product k of the plan stands. */
  placeOfProduct(k: number): number;
  readonly slots: Float64Array;
}

export function createSweep(plan: SweepPlan, kernelOf: typeof wasmKernel = wasmKernel): Sweep {
  const { factors, varyingAt, sides } = plan;
  const entries = factors.pattern.rows.length;
  const size = { slots: plan.slots, varying: plan.varying };
  const kernel: Kernel = kernelOf(plan.blockProgram, size) ?? plainKernel(plan.blockProgram, size);
  const conductance = new Float64Array(entries);
  const capacitance = new Float64Array(entries);
  const loss = new Float64Array(entries);
  const ones = sides.flatMap((side) => side.entries.map((line) => sideSlot(factors, side, 'entry', line)));

  return {
    conductance,
    capacitance,
    loss,
    omega: kernel.omega,
    slots: kernel.slots,
    prepare() {
      kernel.constants.fill(0, entries);
      kernel.constants.set(conductance);
      for (const slot of ones) kernel.constants[slot] = 1;
      for (let k = 0; k < entries; k++) {
        const place = varyingAt[k]!;
        if (place < 0) continue;
        kernel.capacitance[place] = capacitance[k]!;
        kernel.loss[place] = loss[k]!;
      }
      runReal(plan.constantProgram, kernel.constants);
    },
    solveBlock: kernel.run,
    placeOf: (side, unknown) => 2 * lanes * sideSlot(factors, sides[side]!, 'unknown', unknown),
    placeOfProduct: (k) => 2 * lanes * (plan.productSlot + k),
  };
}
