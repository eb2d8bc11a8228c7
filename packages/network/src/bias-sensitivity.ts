import { realLu } from '@curvewright/solver';
import type { OperatingPoint } from './bias.ts';
import { loneParts, type CircuitParameter } from './circuit-parameters.ts';
import { createEquations, noRelief } from './equations.ts';
import type { Network } from './network.ts';
import { partSlopes, type ParameterSlopes, type PartSlopes } from './part-slopes.ts';

/** What every parameter of a circuit moves at its bias. */
export interface BiasSensitivities {
  /** In the order of the parts, then rails, then loads. */
  readonly parameters: readonly CircuitParameter[];
  /** For each parameter dx/d(ln parameter) by unknown of the network: V for nodes and op-amp drives, A for branch currents. */
  readonly moves: readonly Float64Array[];
  readonly parts: readonly PartSlopes[];
}

/**
 * Exact first-order sensitivities of the bias by adjoints (Director & Rohrer, IEEE Trans. Circuit Theory CT-16, 1969): with J zᵤ = eᵤ transposed,
 * dxᵤ/dp = −zᵤ · ∂F/∂p, one solve for each unknown whatever the number of parameters. Null where the equations are singular at the bias.
 */
export function biasSensitivities(network: Network, point: OperatingPoint): BiasSensitivities | null {
  const parts = loneParts(network.circuit).map((part) => partSlopes(network, point, part));
  const all = parts.flatMap(({ parameters }) => parameters);
  const moves = all.map(() => new Float64Array(network.size));
  const solved = visitAdjoints(network, point, (unknown, adjoint) => {
    all.forEach((slopes, p) => (moves[p]![unknown] = -along(adjoint, slopes)));
  });
  return solved ? { parameters: all.map(({ parameter }) => parameter), moves, parts } : null;
}

function along(adjoint: Float64Array, { rows, residual }: ParameterSlopes): number {
  return rows.reduce((sum, row, n) => sum + adjoint[row]! * residual[n]!, 0);
}

/** Solves Jᵀ z = eᵤ for every unknown, once refined; false where J is singular. `visit` must not keep the vector. */
function visitAdjoints(
  network: Network,
  { x, controls }: OperatingPoint,
  visit: (unknown: number, adjoint: Float64Array) => void,
): boolean {
  const { size } = network;
  const equations = createEquations(network);
  equations.controls.set(controls);
  equations.assemble(x, noRelief);
  const { jacobian } = equations;
  const lu = realLu(size);
  lu.matrix.set(jacobian);
  if (lu.factor() >= 0) return false;
  const adjoint = new Float64Array(size);
  const correction = new Float64Array(size);
  for (let unknown = 0; unknown < size; unknown++) {
    adjoint.fill(0);
    adjoint[unknown] = 1;
    lu.solveTransposed(adjoint);
    correction.fill(0);
    correction[unknown] = 1;
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) correction[j] = correction[j]! - jacobian[i * size + j]! * adjoint[i]!;
    }
    lu.solveTransposed(correction);
    for (let i = 0; i < size; i++) adjoint[i] = adjoint[i]! + correction[i]!;
    visit(unknown, adjoint);
  }
  return true;
}
