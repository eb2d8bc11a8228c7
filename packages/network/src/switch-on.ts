import { nodeVolts, type OperatingPoint } from './bias.ts';
import { common, type Unknown } from './elements.ts';
import { unknownOf, type Network } from './network.ts';
import { middle } from './time-step.ts';
import { runInTime, type TimeRun, type TimeStep } from './transient.ts';

/** Highest and lowest voltage between two nodes on the way, V. */
export interface Swing {
  highest: number;
  lowest: number;
}

/** A voltage over time as it was stepped through: s and V, ascending. */
export interface Trace {
  readonly seconds: readonly number[];
  readonly volts: readonly number[];
}

export interface SwitchOnOptions {
  /** s in which all rails rise together from 0 V, in a straight line. */
  readonly ramp: number;
  /** s of circuit time at most. */
  readonly until: number;
  /** Pairs of nodes whose voltage is watched. */
  readonly watched: readonly (readonly [string, string])[];
}

export interface SwitchOn {
  readonly run: TimeRun;
  /** The output node of every channel. */
  readonly outputs: readonly Trace[];
  /** As `watched`. */
  readonly swings: readonly Swing[];
  /** The largest distance of a node from its bias at the end, V, and that node. */
  readonly fromBias: number;
  readonly furthestNode: string;
}

/** V within which every node has to be of its bias for the run to be over. */
const arrived = 1e-6;

const tolerance = { relative: 1e-6, volts: 2e-6, amps: 1e-9 };
const budget = 10_000;

/**
 * Switches the supplies on: everything discharged and at 0 V, the generators at 0 V, the rails rising in a straight line, until every node is
 * within 1 µV of its bias in `point` or the time is up.
 */
export function switchOn(network: Network, point: OperatingPoint, options: SwitchOnOptions): SwitchOn {
  const { ramp, until } = options;
  const nodes = [...network.nodes.values()];
  const outputs = network.circuit.channels.map(({ output }) => ({
    at: unknownOf(network, output),
    seconds: [0],
    volts: [0],
  }));
  const watched = options.watched.map(([a, b]) => ({ a: unknownOf(network, a), b: unknownOf(network, b) }));
  const swings = watched.map((): Swing => ({ highest: 0, lowest: 0 }));
  const end = new Float64Array(network.size);

  const visit = (step: TimeStep): boolean => {
    const inner = step.from + middle * (step.to - step.from);
    for (const { at, seconds, volts } of outputs) {
      seconds.push(inner, step.to);
      volts.push(voltage(step.middle, at), voltage(step.end, at));
    }
    for (let n = 0; n < watched.length; n++) widen(swings[n]!, watched[n]!, step);
    end.set(step.end);
    return step.to >= ramp && nodes.every((u) => Math.abs(step.end[u]! - point.x[u]!) <= arrived);
  };
  const drive = (seconds: number, branchVolts: Float64Array): void => {
    const share = seconds < ramp ? seconds / ramp : 1;
    for (let n = 0; n < branchVolts.length; n++) {
      const { rail, volts } = network.branches[n]!;
      branchVolts[n] = rail ? share * volts : volts;
    }
  };
  const run = runInTime(network, { drive, corners: [ramp] }, { until, tolerance, budget }, visit);

  let fromBias = 0;
  let furthestNode = 'gnd';
  for (const [node, u] of network.nodes) {
    const distance = Math.abs(end[u]! - nodeVolts(network, point, node));
    if (distance <= fromBias) continue;
    fromBias = distance;
    furthestNode = node;
  }
  return { run, outputs, swings, fromBias, furthestNode };
}

function voltage(x: Float64Array, u: Unknown): number {
  return u === common ? 0 : x[u]!;
}

/** The steps lie close enough for a peak between two of them to be missed by no more than a few of their tolerances. */
function widen(swing: Swing, { a, b }: { a: Unknown; b: Unknown }, step: TimeStep): void {
  const inner = voltage(step.middle, a) - voltage(step.middle, b);
  const last = voltage(step.end, a) - voltage(step.end, b);
  swing.highest = Math.max(swing.highest, inner, last);
  swing.lowest = Math.min(swing.lowest, inner, last);
}
