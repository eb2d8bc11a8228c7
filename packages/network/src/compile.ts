import type { Circuit, Part, TypedPart } from '@curvewright/board';
import { deviceOf } from '@curvewright/devices';
import { idealSource, type Source } from './elements.ts';
import { createBuilder, leadNode, type Builder } from './network-builder.ts';
import type { Network } from './network.ts';

/** Compiles a circuit with one source for every channel's input (modified nodal analysis: Ho, Ruehli & Brennan, IEEE Trans. CAS 22, 1975). */
export function compileNetwork(circuit: Circuit, source: Source = idealSource): Network {
  const builder = createBuilder();
  for (const rail of circuit.rails) {
    builder.branch({
      ref: rail.node,
      from: rail.node,
      to: 'gnd',
      volts: rail.volts,
      ohms: rail.resistance,
      rail: true,
    });
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
