import type { Circuit, Part, TypedPart } from '@curvewright/board';
import { amplifierState, currentInto, deviceCurrents, nodeVolts, railAmps } from '@curvewright/network';
import { bareName, nodesOfChannel } from './node-volts.ts';
import { varyStage, type Stage } from './stage.ts';

/** The predicted voltage chart. Currents are positive into the lead, voltages lead minus lead as named. */
export interface VoltageChart {
  /** Ω the meter puts from the node under test to gnd. */
  readonly meterOhms: number;
  readonly channels: readonly ChannelChart[];
  readonly rails: readonly { rail: string; volts: number; amps: number }[];
}

export interface ChannelChart {
  readonly name: string;
  /** `meterVolts`: what the meter shows when it loads this node; null where no bias is found with it. */
  readonly nodes: readonly { node: string; volts: number; meterVolts: number | null }[];
  readonly parts: readonly PartBias[];
}

export type PartBias =
  | { ref: string; icA: number; ibA: number; vceV: number; vbeV: number; powerW: number }
  | { ref: string; idA: number; vdsV: number; vgsV: number; powerW: number }
  | { ref: string; iaA: number; vaV: number; vgV: number; powerW: number }
  | { ref: string; outV: number; limited: boolean }
  | { ref: string; volts: number; amps: number; powerW: number };

export function voltageChart(stage: Stage, meterOhms: number): VoltageChart {
  const { circuit, network, point } = stage;
  const meter = new Map<string, number | null>();
  for (const node of network.nodes.keys()) meter.set(node, meterVolts(stage, node, meterOhms));
  return {
    meterOhms,
    channels: circuit.channels.map(({ name }) => ({
      name,
      nodes: nodesOfChannel(stage, name).map((node) => ({
        node: bareName(node),
        volts: nodeVolts(network, point, node),
        meterVolts: meter.get(node) ?? null,
      })),
      parts: channelBias(stage, name),
    })),
    rails: circuit.rails.map(({ node }) => ({
      rail: node,
      volts: nodeVolts(network, point, node),
      amps: railAmps(network, point, node),
    })),
  };
}

/** Bias of a channel's parts, and of those it shares. */
export function channelBias(stage: Stage, channel: string): readonly PartBias[] {
  return stage.circuit.parts
    .filter((part) => part.channel === channel || part.channel === null)
    .flatMap((part) => partBias(stage, part));
}

/** Bias of a channel's transistors, diodes, valves and op-amps, and of those it shares. */
export function deviceBias(stage: Stage, channel: string): readonly PartBias[] {
  return stage.circuit.parts
    .filter((part) => part.kind === 'typed' && (part.channel === channel || part.channel === null))
    .flatMap((part) => partBias(stage, part));
}

/** The whole circuit solved again with the meter's resistance from the node to gnd. */
function meterVolts(stage: Stage, node: string, ohms: number): number | null {
  const place = { file: 'meter', line: 1, column: 1 };
  const meter: Part = {
    kind: 'resistor',
    ref: 'meter',
    position: 'meter',
    channel: null,
    place,
    ohms,
    between: [node, 'gnd'],
  };
  const circuit: Circuit = { ...stage.circuit, parts: [...stage.circuit.parts, meter] };
  const loaded = varyStage(stage, circuit);
  return loaded && nodeVolts(loaded.network, loaded.point, node);
}

function partBias(stage: Stage, part: Part): readonly PartBias[] {
  switch (part.kind) {
    case 'resistor':
    case 'inductor':
      return [twoLeads(stage, part.ref, part.between[0], part.between[1])];
    case 'capacitor':
      return [twoLeads(stage, part.ref, part.plus, part.minus)];
    case 'trimmer':
      return part.wiper === undefined ? [twoLeads(stage, part.ref, part.between[0], part.between[1])] : [];
    case 'switch':
      return [];
    case 'typed':
      return [typedBias(stage, part)];
  }
}

function twoLeads(stage: Stage, ref: string, first: string, second: string): PartBias {
  const volts = nodeVolts(stage.network, stage.point, first) - nodeVolts(stage.network, stage.point, second);
  const amps = currentInto(stage.network, stage.point, ref, first);
  return { ref, volts, amps, powerW: volts * amps };
}

function typedBias(stage: Stage, part: TypedPart): PartBias {
  const { network, point } = stage;
  const { ref, leads } = part;
  if (part.type.kind === 'opamp') return { ref, ...amplifierState(network, point, ref) };
  const amps = deviceCurrents(network, point, ref);
  const volts = (from: string, to: string): number =>
    nodeVolts(network, point, leads[from] ?? 'gnd') - nodeVolts(network, point, leads[to] ?? 'gnd');
  switch (part.type.kind) {
    case 'npn':
    case 'pnp': {
      const [icA, ibA, vceV, vbeV] = [
        amps.collector!,
        amps.base!,
        volts('collector', 'emitter'),
        volts('base', 'emitter'),
      ];
      return { ref, icA, ibA, vceV, vbeV, powerW: icA * vceV + ibA * vbeV };
    }
    case 'jfet-n':
    case 'jfet-p': {
      const [idA, vdsV, vgsV] = [amps.drain!, volts('drain', 'source'), volts('gate', 'source')];
      return { ref, idA, vdsV, vgsV, powerW: idA * vdsV + amps.gate! * vgsV };
    }
    case 'triode': {
      const [iaA, vaV, vgV] = [amps.anode!, volts('anode', 'cathode'), volts('grid', 'cathode')];
      return { ref, iaA, vaV, vgV, powerW: iaA * vaV + amps.grid! * vgV };
    }
    case 'diode':
    case 'zener': {
      const drop = volts('anode', 'cathode');
      return { ref, volts: drop, amps: amps.anode!, powerW: drop * amps.anode! };
    }
  }
}
