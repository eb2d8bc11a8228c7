import type { Circuit, NodeName } from '@curvewright/board';
import { deviceOf } from '@curvewright/devices';
import { nodeVolts, type Network, type OperatingPoint } from '../src/index.ts';

/** What meets at a node. */
interface Sum {
  amps: number;
  largest: number;
  /** Σ|G·V|, of which rounding may take a few eps. */
  flow: number;
}

/**
 * The largest sum of currents at any node over 1e-12 A + 1e-12 of the largest current there + 8 eps of Σ|G·V|, from node voltages and the
 * parts themselves: Ohm's law for resistors, rails and loads, each device evaluated anew. Nodes that an ideal source holds are left out.
 */
export function worstKirchhoff(circuit: Circuit, network: Network, point: OperatingPoint): number {
  const sums = new Map<string, Sum>();
  const gather = (node: NodeName, amps: number, flow: number): void => {
    const sum = sums.get(node) ?? { amps: 0, largest: 0, flow: 0 };
    sums.set(node, {
      amps: sum.amps + amps,
      largest: Math.max(sum.largest, Math.abs(amps)),
      flow: sum.flow + flow,
    });
  };
  const volts = (node: NodeName): number => nodeVolts(network, point, node);
  const ohmic = (ohms: number, [a, va]: readonly [string, number], [b, vb]: readonly [string, number]): void => {
    const flow = (Math.abs(va) + Math.abs(vb)) / ohms;
    gather(a, (va - vb) / ohms, flow);
    gather(b, (vb - va) / ohms, flow);
  };

  for (const { node, volts: supply, resistance } of circuit.rails) {
    if (resistance > 0) ohmic(resistance, [node, volts(node)], ['gnd', supply]);
  }
  for (const { output, load } of circuit.channels) {
    if (load.resistance !== undefined) ohmic(load.resistance, [output, volts(output)], ['gnd', 0]);
  }
  for (const part of circuit.parts) {
    if (part.kind === 'resistor') {
      const [a, b] = part.between;
      ohmic(part.ohms, [a, volts(a)], [b, volts(b)]);
    }
    if (part.kind !== 'typed' || part.type.kind === 'opamp') continue;
    const device = deviceOf(part.type, circuit.ambient);
    const ends = device.leads.map((lead): readonly [string, number] => [part.leads[lead]!, volts(part.leads[lead]!)]);
    if ('rbb' in part.type && part.type.rbb !== undefined) {
      const unknown = network.names.findIndex((name) => name.kind === 'inner node' && name.ref === part.ref);
      const inner = [`inside ${part.ref}`, point.x[unknown]!] as const;
      ohmic(part.type.rbb, ends[1]!, inner);
      ends[1] = inner;
    }
    const width = device.controls.length;
    const controls = Float64Array.from(device.controls, ([p, m]) => ends[p]![1] - ends[m]![1]);
    const currents = new Float64Array(device.leads.length);
    const slopes = new Float64Array(device.leads.length * width);
    device.evaluate(controls, currents, slopes);
    ends.forEach(([node], lead) => {
      const flow = device.controls.reduce(
        (sum, [p, m], k) => sum + Math.abs(slopes[lead * width + k]!) * (Math.abs(ends[p]![1]) + Math.abs(ends[m]![1])),
        0,
      );
      gather(node, currents[lead]!, flow);
    });
  }

  const held = new Set(['gnd', ...circuit.channels.map(({ input }) => input)]);
  for (const { node, resistance } of circuit.rails) if (resistance === 0) held.add(node);
  const ratios = [...sums]
    .filter(([node]) => !held.has(node))
    .map(([, { amps, largest, flow }]) => Math.abs(amps) / (1e-12 + 1e-12 * largest + 8 * Number.EPSILON * flow));
  return Math.max(0, ...ratios);
}
