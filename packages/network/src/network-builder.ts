import type { Circuit, NodeName, TypedPart } from '@curvewright/board';
import { opAmp } from '@curvewright/devices';
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
import type { Network } from './network.ts';

interface BranchSpec {
  ref: string;
  from: NodeName;
  to: NodeName;
  volts?: number;
  ohms?: number;
  henries?: number;
  rail?: boolean;
}

/** Gathers elements and numbers the unknowns in the order they come up. */
export interface Builder {
  node(name: NodeName): Unknown;
  innerNode(ref: string): Unknown;
  resistance(ref: string, from: NodeName, to: NodeName, ohms: number): void;
  conductance(ref: string, a: Unknown, b: Unknown, siemens: number): void;
  capacitance(ref: string, from: NodeName, to: NodeName, farads: number, loss: number): void;
  capacitanceBetween(ref: string, a: Unknown, b: Unknown, farads: number, loss: number): void;
  branch(spec: BranchSpec): Branch;
  device(placed: PlacedDevice): void;
  amplifier(part: TypedPart): void;
  finish(circuit: Circuit, inputs: readonly Branch[]): Network;
}

export function createBuilder(): Builder {
  const names: UnknownName[] = [];
  const nodes = new Map<NodeName, Unknown>();
  const conductances: Conductance[] = [];
  const branches: Branch[] = [];
  const capacitances: Capacitance[] = [];
  const devices: PlacedDevice[] = [];
  const amplifiers: PlacedAmplifier[] = [];
  const add = (name: UnknownName): Unknown => names.push(name) - 1;

  const builder: Builder = {
    node(name) {
      if (name === 'gnd') return common;
      const known = nodes.get(name);
      if (known !== undefined) return known;
      const index = add({ kind: 'node', node: name });
      nodes.set(name, index);
      return index;
    },
    innerNode: (ref) => add({ kind: 'inner node', ref }),
    resistance(ref, from, to, ohms) {
      // A trimmer's wiper joined to its own end; as a zero-ohm branch its current would be anything.
      if (from === to) return;
      if (ohms === 0) builder.branch({ ref, from, to });
      else builder.conductance(ref, builder.node(from), builder.node(to), 1 / ohms);
    },
    conductance(ref, a, b, siemens) {
      conductances.push({ ref, a, b, siemens });
    },
    capacitance(ref, from, to, farads, loss) {
      builder.capacitanceBetween(ref, builder.node(from), builder.node(to), farads, loss);
    },
    capacitanceBetween(ref, a, b, farads, loss) {
      if (farads > 0) capacitances.push({ ref, a, b, farads, loss });
    },
    branch({ ref, from, to, volts = 0, ohms = 0, henries = 0, rail = false }) {
      const a = builder.node(from);
      const b = builder.node(to);
      const branch: Branch = { ref, a, b, current: add({ kind: 'current', ref }), volts, ohms, henries, rail };
      branches.push(branch);
      return branch;
    },
    device(placed) {
      devices.push(placed);
    },
    amplifier(part) {
      if (part.type.kind !== 'opamp') throw new Error(`${part.ref} is no op-amp`);
      const [plus, minus, out] = ['plus', 'minus', 'out'].map((lead) => builder.node(leadNode(part, lead)));
      const rails = part.rails ? ([builder.node(part.rails[0]), builder.node(part.rails[1])] as const) : null;
      const drive = add({ kind: 'drive', ref: part.ref });
      const current = add({ kind: 'current', ref: part.ref });
      const model = opAmp(part.type);
      amplifiers.push({ ref: part.ref, model, plus: plus!, minus: minus!, out: out!, rails, drive, current });
    },
    finish: (circuit, inputs) => ({
      circuit,
      size: names.length,
      names,
      nodes,
      conductances,
      branches,
      capacitances,
      devices,
      amplifiers,
      inputs,
    }),
  };
  return builder;
}

/** The node a part's lead stands on; throws for a lead the part does not have (a programmer's error). */
export function leadNode(part: TypedPart, lead: string): NodeName {
  const node = part.leads[lead];
  if (node === undefined) throw new Error(`${part.ref} has no lead ${lead}`);
  return node;
}
