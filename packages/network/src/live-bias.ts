import { realElimination } from '@curvewright/solver';
import { solveBias, type OperatingPoint } from './bias.ts';
import { createEquations, noRelief, recordEquations } from './equations.ts';
import type { LiveNetwork } from './live-network.ts';
import { createSearch } from './newton.ts';

/** Finds the bias of one network over and over as its values change, from the bias it had when it was analysed. */
export interface LiveBias {
  /** V and A by unknown, and the devices' control voltages, of the last search. */
  readonly x: Float64Array;
  readonly controls: Float64Array;
  /** With these values, one for each parameter of the live network; false where no bias is found. */
  solve(values: Float64Array): boolean;
}

/** How a bias follows one parameter, to first order. */
interface Trend {
  readonly index: number;
  readonly nominal: number;
  /** dx of `unknowns` per unit of 1 − nominal/value: the current of a resistor and the base current of a gain go with the reciprocal. */
  readonly slopes: Float64Array;
  readonly unknowns: Int32Array;
}

/** V (or A) for a parameter of twice its value; what follows less is left to Newton's steps. */
const followed = 1e-4;

/** Newton steps before the thorough search takes over. */
const patience = 25;

/** Share of a parameter by which it is moved to see what its bias does. */
const nudge = 1e-4;

/** Moves beyond it are left to Newton's steps. */
const straightReach = 0.7;

/** Null where the network is singular at `nominal`. */
export function liveBias({ network, parameters, write }: LiveNetwork, nominal: OperatingPoint): LiveBias | null {
  const record = recordEquations(network);
  const pattern = record.pattern();
  const equations = createEquations(network, record);
  equations.controls.set(nominal.controls);
  equations.assemble(nominal.x, noRelief);
  const elimination = realElimination(pattern, equations.jacobian);
  if (!elimination) return null;
  const search = createSearch(equations, (step) => {
    for (let i = 0; i < step.length; i++) step[i] = -equations.residual[i]!;
    elimination.solve(equations.jacobian, step);
    return -1;
  });
  const trends = parameters.flatMap((parameter, index): Trend[] => {
    const values = Float64Array.from(parameters, (each) => each.nominal);
    values[index] = parameter.nominal * (1 + nudge);
    write(values);
    equations.controls.set(nominal.controls);
    equations.assemble(nominal.x, noRelief);
    const slope = equations.residual.map((left) => (-left * (1 + nudge)) / nudge);
    elimination.solve(equations.jacobian, slope);
    const unknowns = Int32Array.from(slope.keys()).filter((unknown) => Math.abs(slope[unknown]!) > followed);
    if (unknowns.length === 0) return [];
    return [{ index, nominal: parameter.nominal, unknowns, slopes: Float64Array.from(unknowns, (k) => slope[k]!) }];
  });

  /** Where the values would take the bias if it went in straight lines: a start that saves a step. */
  function predict(values: Float64Array): void {
    const { x } = search;
    x.set(nominal.x);
    for (let n = 0; n < trends.length; n++) {
      const { index, nominal: before, unknowns, slopes } = trends[n]!;
      const moved = 1 - before / values[index]!;
      if (moved === 0 || Math.abs(moved) > straightReach) continue;
      for (let k = 0; k < unknowns.length; k++) {
        const unknown = unknowns[k]!;
        x[unknown] = x[unknown]! + moved * slopes[k]!;
      }
    }
    equations.readControls(search.x, equations.controls);
  }

  return {
    x: search.x,
    controls: equations.controls,
    solve(values) {
      write(values);
      predict(values);
      if (search.run(noRelief, { steps: patience, looseness: 1 }).kind === 'converged') return true;
      const thorough = solveBias(network);
      if (!thorough.ok) return false;
      search.x.set(thorough.point.x);
      equations.controls.set(thorough.point.controls);
      return true;
    },
  };
}
