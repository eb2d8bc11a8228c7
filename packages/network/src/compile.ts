import type { Circuit, NodeName, Part, TypedPart } from '@curvewright/board';
import { deviceOf, opAmp } from '@curvewright/devices';
import {
  common,
  idealSource,
  type Branch,
  type Capacitance,
  type Conductance,
  type PlacedAmplifier,
  type PlacedDevice,
  type Source,
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

/** Compiles a circuit with one source for every channel's input (modified nodal analysis: Ho, Ruehli & Brennan, IEEE Trans. CAS 22, 1975). */
export function compileNetwork(circuit: Circuit, source: Source = idealSource): Network {
  const builder = createBuilder();
  for (const rail of circuit.rails) {
    builder.branch({ ref: rail.node, from: rail.node, to: 'gnd', volts: rail.volts, ohms: rail.resistance, rail: true });
  }
  for (const part of circuit.parts) addPart(builder, part, circuit.ambient);
  const inputs = circuit.channels.map((channel) => {
    const ref = `input@${channel.name}`;
    builder.capacitance(ref, channel.input, 'gnd', source.capacitance, 0);
    return builder.branch({
      ref,
      from: channel.input,
      to: 'gnd',
      volts: 0,
      ohms: source.resistance,
      henries: source.inductance,
    });
  });
  for (const channel of circuit.channels) {
    const ref = `load@${channel.name}`;
    if (channel.load.resistance !== undefined) builder.resistance(ref, channel.output, 'gnd', channel.load.resistance);
    builder.capacitance(ref, channel.output, 'gnd', channel.load.capacitance ?? 0, 0);
    builder.node(channel.output);
  }
  return builder.finish(circuit, inputs);
}

interface BranchSpec {
  ref: string;
  from: NodeName;
  to: NodeName;
  volts?: number;
  ohms?: number;
  henries?: number;
  rail?: boolean;
}

interface Builder {
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

function createBuilder(): Builder {
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

function leadNode(part: TypedPart, lead: string): NodeName {
  const node = part.leads[lead];
  if (node === undefined) throw new Error(`${part.ref} has no lead ${lead}`);
  return node;
}

function addPart(builder: Builder, part: Part, kelvin: number): void {
  const { ref } = part;
  switch (part.kind) {
    case 'resistor':
      builder.resistance(ref, part.between[0], part.between[1], part.ohms);
      return;
    case 'capacitor': {
      const plus = builder.node(part.plus);
      const minus = builder.node(part.minus);
      if (part.leakage !== undefined) builder.resistance(ref, part.plus, part.minus, part.leakage);
      if (part.esr === undefined || part.esr === 0) {
        builder.capacitanceBetween(ref, plus, minus, part.farads, part.loss ?? 0);
        return;
      }
      const inner = builder.innerNode(ref);
      builder.conductance(ref, inner, minus, 1 / part.esr);
      builder.capacitanceBetween(ref, plus, inner, part.farads, part.loss ?? 0);
      return;
    }
    case 'inductor':
      builder.branch({ ref, from: part.between[0], to: part.between[1], ohms: part.ohms, henries: part.henries });
      return;
    case 'trimmer':
      if (part.wiper === undefined) {
        builder.resistance(ref, part.between[0], part.between[1], part.ohms * part.turn);
        return;
      }
      builder.resistance(ref, part.between[0], part.wiper, part.ohms * part.turn);
      builder.resistance(ref, part.wiper, part.between[1], part.ohms * (1 - part.turn));
      return;
    case 'switch': {
      const joined = part.positions[part.at];
      if (joined === undefined) throw new Error(`${ref} has no position ${part.at}`);
      builder.resistance(ref, part.pole, joined, 0);
      return;
    }
    case 'typed':
      addTypedPart(builder, part, kelvin);
  }
}

function addTypedPart(builder: Builder, part: TypedPart, kelvin: number): void {
  const { type, ref } = part;
  if (type.kind === 'opamp') {
    builder.amplifier(part);
    return;
  }
  const device = deviceOf(type, kelvin);
  const leads = device.leads.map((lead) => builder.node(leadNode(part, lead)));
  if ((type.kind === 'npn' || type.kind === 'pnp') && type.rbb !== undefined && type.rbb > 0) {
    const base = device.leads.indexOf('base');
    const inner = builder.innerNode(ref);
    builder.conductance(ref, leads[base]!, inner, 1 / type.rbb);
    leads[base] = inner;
  }
  builder.device({ ref, device, leads });
}
