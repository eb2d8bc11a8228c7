import type { Circuit } from '@curvewright/board';
import { compileNetwork, type Network } from '../src/index.ts';
import { unknownOf } from '../src/network.ts';
import { createEquations } from '../src/equations.ts';
import { createMotion, type TimeTolerance } from '../src/motion.ts';
import { createStepper, type Stepper } from '../src/time-step.ts';
import { runInTime, type RunOptions, type TimeRun, type TimeStep } from '../src/transient.ts';

export const tight: TimeTolerance = { relative: 1e-6, volts: 1e-6, amps: 1e-9 };

/** What the branch of a rail or an input (by its designator) does in time, V over s; the others stand at their volts. */
export type Drives = Readonly<Record<string, (seconds: number) => number>>;

function driveOf(network: Network, drives: Drives): (seconds: number, branchVolts: Float64Array) => void {
  return (seconds, branchVolts) => {
    network.branches.forEach(({ ref, volts }, n) => (branchVolts[n] = drives[ref]?.(seconds) ?? volts));
  };
}

/** V of a node out of x. */
export function voltsAt(network: Network, x: Float64Array, node: string): number {
  return node === 'gnd' ? 0 : x[unknownOf(network, node)]!;
}

/** Runs from rest at 0 V everywhere and hands on every step. */
export function runCircuit(
  circuit: Circuit,
  drives: Drives,
  options: Partial<RunOptions> & { until: number; corners?: readonly number[] },
  visit: (step: TimeStep, network: Network) => void,
): TimeRun {
  const network = compileNetwork(circuit);
  const { corners = [], ...rest } = options;
  return runInTime(
    network,
    { drive: driveOf(network, drives), corners },
    { tolerance: tight, budget: 100_000, ...rest },
    (step) => {
      visit(step, network);
      return false;
    },
  );
}

/** A stepper at rest, for strides of one's own. */
export function stepperFor(circuit: Circuit, drives: Drives): { network: Network; stepper: Stepper } {
  const network = compileNetwork(circuit);
  const equations = createEquations(network);
  const motion = createMotion(equations);
  const start = new Float64Array(network.size);
  return { network, stepper: createStepper(equations, motion, tight, driveOf(network, drives), start) };
}
