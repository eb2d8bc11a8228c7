import { lanes } from './plain-kernel.ts';
import type { Sweep } from './sweep.ts';
import type { SweepPlan } from './sweep-plan.ts';

/** Reads how well a block's solution fits its equations; storage made once. */
export interface SweepResidual {
  /**
   * Largest residual of a row over the sizes of its terms, |b − A x| / (|A||x| + |b|), of one lane of the block last solved. Side `side`
   * must be of A x = b with every unknown wanted. Where the terms themselves are rounding, the row's entries times the largest x stand
   * for them (Arioli, Demmel & Duff, SIAM J. Matrix Anal. Appl. 10, 1989). Infinity where the solution is not finite.
   */
  worst(side: number, lane: number): number;
}

export function sweepResidual(plan: SweepPlan, sweep: Sweep): SweepResidual {
  const { rows, columns, size } = plan.factors.pattern;
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  const flow = new Float64Array(size);
  const entries = new Float64Array(size);
  const rounding = 1000 * size * Number.EPSILON;
  const places = plan.sides.map((_, side) => Int32Array.from({ length: size }, (_, j) => sweep.placeOf(side, j)));
  return {
    worst(side, lane) {
      const { conductance, capacitance, loss, slots } = sweep;
      const omega = sweep.omega[lane]!;
      const place = places[side]!;
      re.fill(0);
      im.fill(0);
      flow.fill(0);
      entries.fill(0);
      let largest = 0;
      for (const row of plan.sides[side]!.entries) {
        re[row] = 1;
        flow[row] = 1;
      }
      for (let k = 0; k < rows.length; k++) {
        const row = rows[k]!;
        const at = place[columns[k]!]! + lane;
        const xr = slots[at]!;
        const xi = slots[at + lanes]!;
        const ar = conductance[k]! + omega * loss[k]!;
        const ai = omega * capacitance[k]!;
        re[row] = re[row]! - (ar * xr - ai * xi);
        im[row] = im[row]! - (ar * xi + ai * xr);
        const entry = Math.abs(ar) + Math.abs(ai);
        const unknown = Math.abs(xr) + Math.abs(xi);
        flow[row] = flow[row]! + entry * unknown;
        entries[row] = entries[row]! + entry;
        if (unknown > largest) largest = unknown;
      }
      let worst = 0;
      for (let i = 0; i < size; i++) {
        const left = Math.abs(re[i]!) + Math.abs(im[i]!);
        if (!Number.isFinite(left)) return Infinity;
        const whole = entries[i]! * largest;
        const size = flow[i]! <= rounding * whole ? whole : flow[i]!;
        if (size > 0) worst = Math.max(worst, left / size);
      }
      return worst;
    },
  };
}
