import type { Circuit, NodeName } from '@curvewright/board';
import {
  common,
  type Branch,
  type Capacitance,
  type Conductance,
  type PlacedAmplifier,
  type PlacedDevice,
  type Unknown,
  type UnknownName,
} from './elements.ts';

/** The circuit as elements between numbered unknowns: first the nodes, then inner nodes, branch currents and op-amp drives. */
export interface Network {
  readonly circuit: Circuit;
  /** Count of unknowns. */
  readonly size: number;
  readonly names: readonly UnknownName[];
  readonly nodes: ReadonlyMap<NodeName, Unknown>;
  readonly conductances: readonly Conductance[];
  readonly branches: readonly Branch[];
  readonly capacitances: readonly Capacitance[];
  readonly devices: readonly PlacedDevice[];
  readonly amplifiers: readonly PlacedAmplifier[];
  /** For each channel the branch that drives its input. */
  readonly inputs: readonly Branch[];
}

/** The unknown of a node; throws for a name the circuit does not have (a programmer's error: circuits are checked on reading). */
export function unknownOf(network: Network, node: NodeName): Unknown {
  if (node === 'gnd') return common;
  const index = network.nodes.get(node);
  if (index === undefined) throw new Error(`no node ${node} in this network`);
  return index;
}
