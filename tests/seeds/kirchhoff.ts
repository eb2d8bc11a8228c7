import type { Circuit } from '@curvewright/board';
import { deviceOf } from '@curvewright/devices';
import { nodeVolts, type Network, type OperatingPoint } from '@curvewright/network';

/** What meets at a node: the sum of the currents, the largest of them, and Σ|G·V|, of which rounding may take a few eps. */
interface Sum {
  amps: number;
  largest: number;
  flow: number;
}

/**
 * The largest sum of currents at a node over 1e-12 A + 1e-12 × the largest current there + 8 eps × Σ|G·V|, from the node voltages, the
 * parts' own values by Ohm's law and each device evaluated anew. Left out are the nodes that a source holds (the inputs) or an op-amp
 * drives: what flows there is whatever the rest asks for.
 */
export function worstKirchhoff(circuit: Circuit, network: Network, point: OperatingPoint): { node: string; ratio: number } {
  const sums = new Map<string, Sum>();
  const held = new Set(['gnd', ...circuit.channels.map(({ input }) => input)]);
  const gather = (node: string, amps: number, flow: number): void => {
    const { amps: before, largest, flow: passed } = sums.get(node) ?? { amps: 0, largest: 0, flow: 0 };
    sums.set(node, { amps: before + amps, largest: Math.max(largest, Math.abs(amps)), flow: passed + flow });
  };
  const volts = (node: string): number => nodeVolts(network, point, node);
  const ohmic = (ohms: number, [a, va]: readonly [string, number], [b, vb]: readonly [string, number]): void => {
    const flow = (Math.abs(va) + Math.abs(vb)) / ohms;
    gather(a, (va - vb) / ohms, flow);
    gather(b, (vb - va) / ohms, flow);
  };
  const between = (ohms: number, a: string, b: string): void => {
    ohmic(ohms, [a, volts(a)], [b, volts(b)]);
  };

  for (const { node, volts: supply, resistance } of circuit.rails) {
    ohmic(resistance, [node, volts(node)], ['gnd', supply]);
  }
  for (const { output, load } of circuit.channels) between(load.resistance!, output, 'gnd');
  for (const part of circuit.parts) {
    if (part.kind === 'resistor') between(part.ohms, ...part.between);
    if (part.kind === 'capacitor' && part.leakage !== undefined) between(part.leakage, part.plus, part.minus);
    if (part.kind !== 'typed') continue;
    if (part.type.kind === 'opamp') {
      held.add(part.leads.out!);
      continue;
    }
    const device = deviceOf(part.type, circuit.ambient);
    const ends = device.leads.map((lead): readonly [string, number] => [part.leads[lead]!, volts(part.leads[lead]!)]);
    if ('rbb' in part.type && part.type.rbb !== undefined) {
      const inside = network.names.findIndex((name) => name.kind === 'inner node' && name.ref === part.ref);
      const inner = [`inside ${part.ref}`, point.x[inside]!] as const;
      ohmic(part.type.rbb, ends[1]!, inner);
      ends[1] = inner;
    }
    const width = device.controls.length;
    const controls = Float64Array.from(device.controls, ([p, m]) => ends[p]![1] - ends[m]![1]);
    const currents = new Float64Array(ends.length);
    const slopes = new Float64Array(ends.length * width);
    device.evaluate(controls, currents, slopes);
    ends.forEach(([node], lead) => {
      const flows = device.controls.map(
        ([p, m], k) => Math.abs(slopes[lead * width + k]!) * (Math.abs(ends[p]![1]) + Math.abs(ends[m]![1])),
      );
      gather(
        node,
        currents[lead]!,
        flows.reduce((sum, flow) => sum + flow, 0),
      );
    });
  }

  let worst = { node: '', ratio: 0 };
  for (const [node, { amps, largest, flow }] of sums) {
    if (held.has(node)) continue;
    const ratio = Math.abs(amps) / (1e-12 + 1e-12 * largest + 8 * Number.EPSILON * flow);
    if (ratio >= worst.ratio) worst = { node, ratio };
  }
  return worst;
}
