import type { Capacitor, Circuit, Part, TypedPart } from '@curvewright/board';
import { deviceOf } from '@curvewright/devices';
import { idealSource, type Source } from './elements.ts';
import { createBuilder, leadNode, type Builder } from './network-builder.ts';
import type { Network } from './network.ts';

/**
 * How a capacitor's loss factor enters. `dielectric`: an admittance ω·C·tan δ, the same loss factor at every frequency. `series`: a resistance
 * tan δ/(2π·1 kHz·C) in series with C, right at 1 kHz, for poles and for time, where an admittance of the frequency has no place.
 */
export type LossForm = 'dielectric' | 'series';

/** Hz at which the series form of a loss factor is exact. */
const lossHz = 1000;

/** Compiles a circuit with one source for every channel's input (modified nodal analysis: Ho, Ruehli & Brennan, IEEE Trans. CAS 22, 1975). */
export function compileNetwork(
  circuit: Circuit,
  source: Source = idealSource,
  { loss = 'dielectric' }: { readonly loss?: LossForm } = {},
): Network {
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
  for (const part of circuit.parts) addPart(builder, part, circuit.ambient, loss);
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

function addPart(builder: Builder, part: Part, kelvin: number, loss: LossForm): void {
  const { ref } = part;
  switch (part.kind) {
    case 'resistor':
      builder.resistance(ref, part.between[0], part.between[1], part.ohms);
      return;
    case 'capacitor':
      addCapacitor(builder, part, loss);
      return;
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

/** Leakage lies across the whole part; without resistance in series there is no inner node. */
function addCapacitor(builder: Builder, part: Capacitor, form: LossForm): void {
  const { ref, farads } = part;
  const tangent = part.loss ?? 0;
  const ohms = (part.esr ?? 0) + (form === 'series' && tangent > 0 ? tangent / (2 * Math.PI * lossHz * farads) : 0);
  const loss = form === 'series' ? 0 : tangent;
  const plus = builder.node(part.plus);
  const minus = builder.node(part.minus);
  if (part.leakage !== undefined) builder.resistance(ref, part.plus, part.minus, part.leakage);
  if (ohms === 0) {
    builder.capacitanceBetween(ref, plus, minus, farads, loss);
    return;
  }
  const inner = builder.innerNode(ref);
  builder.conductance(ref, inner, minus, 1 / ohms);
  builder.capacitanceBetween(ref, plus, inner, farads, loss);
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
