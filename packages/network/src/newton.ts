import { realLu } from '@curvewright/solver';
import { deviceWindows } from './device-windows.ts';
import type { Equations, Relief } from './equations.ts';
import { controlHolder } from './hold-controls.ts';

/** Where a Newton search stands; `x` and `controls` are its own storage, carried from one search to the next. */
export interface Search {
  readonly equations: Equations;
  readonly x: Float64Array;
  /** Row of the largest residual over its tolerance, and that ratio, after the last assembly. */
  worstRow: number;
  worstRatio: number;
  /** Newton steps taken in all. */
  steps: number;
  run(relief: Relief, options: RunOptions): RunEnd;
  /** Back to the devices' start controls and 0 V everywhere. */
  reset(): void;
}

export interface RunOptions {
  readonly steps: number;
  /** Times the tolerance that `toleranceOf` gives; 1 for the final answer, more for a stage of a continuation. */
  readonly looseness: number;
}

export type RunEnd =
  { readonly kind: 'converged' } | { readonly kind: 'spent' } | { readonly kind: 'singular'; readonly column: number };

/**
 * What Kirchhoff's sum at a node may leave: 1e-12 A + 1e-12 of the largest branch current there + 8 eps of Σ|G·V|, below
 * which rounding of the voltages themselves shows. A branch row: 1e-12 V + 8 eps of its voltages.
 */
export function toleranceOf(equations: Equations, row: number): number {
  return 1e-12 + 1e-12 * equations.largestCurrent[row]! + 8 * Number.EPSILON * equations.flow[row]!;
}

/** Solves J · step = −residual; −1, or the column in which no pivot was left. */
export type StepSolver = (step: Float64Array) => number;

/** With row exchanges, whatever the values: the equations must hold every entry of the Jacobian. */
function denseSteps({ network, jacobian, residual }: Equations): StepSolver {
  const lu = realLu(network.size);
  return (step) => {
    lu.matrix.set(jacobian);
    const column = lu.factor();
    if (column >= 0) return column;
    for (let i = 0; i < step.length; i++) step[i] = -residual[i]!;
    lu.solve(step);
    return -1;
  };
}

export function createSearch(equations: Equations, solveStep: StepSolver = denseSteps(equations)): Search {
  const { size } = equations.network;
  const x = new Float64Array(size);
  const step = new Float64Array(size);
  const windows = deviceWindows(equations.network, equations.controls);
  const acceptControls = controlHolder(equations);

  const search: Search = {
    equations,
    x,
    worstRow: -1,
    worstRatio: Infinity,
    steps: 0,
    reset() {
      x.fill(0);
      equations.network.devices.forEach(({ device }, i) => windows[i]!.at.set(device.start));
    },
    run(relief, { steps, looseness }) {
      let held = true;
      for (let n = 0; n <= steps; n++) {
        equations.assemble(x, relief);
        findWorst();
        if (!held && search.worstRatio <= looseness) return { kind: 'converged' };
        if (n === steps) break;
        const column = solveStep(step);
        if (column >= 0) return { kind: 'singular', column };
        let total = 0;
        for (let i = 0; i < size; i++) {
          const moved = x[i]! + step[i]!;
          x[i] = moved;
          total += moved;
        }
        search.steps++;
        held = acceptControls(x);
        // One that is not finite makes the sum so.
        if (!Number.isFinite(total)) break;
      }
      return { kind: 'spent' };
    },
  };

  function findWorst(): void {
    search.worstRatio = 0;
    for (let i = 0; i < size; i++) {
      const ratio = Math.abs(equations.residual[i]!) / toleranceOf(equations, i);
      if (!(ratio <= search.worstRatio)) {
        search.worstRatio = ratio;
        search.worstRow = i;
      }
    }
  }

  search.reset();
  return search;
}
