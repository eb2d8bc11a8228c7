import { common, type Unknown } from './elements.ts';
import type { SmallSignal } from './linearise.ts';
import { frequencySolver } from './response.ts';

/** Impedance between two nodes with all generators at 0 V. */
export interface Port {
  /** Ω (re, im) at a frequency in Hz; null where the network is singular there. */
  impedance(hz: number): readonly [number, number] | null;
}

export function portBetween(small: SmallSignal, a: Unknown, b: Unknown): Port {
  const solver = frequencySolver(small);
  const x = new Float64Array(2 * small.size);
  return {
    impedance(hz) {
      if (!solver.setFrequency(hz)) return null;
      x.fill(0);
      if (a !== common) x[2 * a] = 1;
      if (b !== common) x[2 * b] = -1;
      solver.solve(x);
      const at = (u: Unknown, k: number): number => (u === common ? 0 : x[2 * u + k]!);
      return [at(a, 0) - at(b, 0), at(a, 1) - at(b, 1)];
    },
  };
}
