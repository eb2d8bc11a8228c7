import { realElimination } from '@curvewright/solver';
import { solveBias, type OperatingPoint } from './bias.ts';
import { createEquations, noRelief, recordEquations } from './equations.ts';
import type { Network } from './network.ts';
import { createSearch } from './newton.ts';

/** Finds the bias of one network over and over as its values change, from the bias it had when it was analysed. */
export interface LiveBias {
  /** V and A by unknown, and the devices' control voltages, of the last search. */
  readonly x: Float64Array;
  readonly controls: Float64Array;
  /** False where no bias is found. */
  solve(): boolean;
}

/** Newton steps before the thorough search takes over. */
const patience = 25;

/** Null where the network is singular at `nominal`. */
export function liveBias(network: Network, nominal: OperatingPoint): LiveBias | null {
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
  return {
    x: search.x,
    controls: equations.controls,
    solve() {
      search.x.set(nominal.x);
      equations.controls.set(nominal.controls);
      if (search.run(noRelief, { steps: patience, looseness: 1 }).kind === 'converged') return true;
      const thorough = solveBias(network);
      if (!thorough.ok) return false;
      search.x.set(thorough.point.x);
      equations.controls.set(thorough.point.controls);
      return true;
    },
  };
}
