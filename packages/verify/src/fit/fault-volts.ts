import { agePart, type Circuit } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import { varyStage, type Stage } from '../stage.ts';

/** By designator of a capacitor: the most V it sees with one transistor shorted, and which. */
export type FaultVolts = ReadonlyMap<string, { readonly volts: number; readonly by: string }>;

/** Every bipolar transistor shorted from collector to emitter, one after the other; a short that leaves no bias tells nothing. */
export function faultVolts(stage: Stage): FaultVolts {
  const worst = new Map<string, { volts: number; by: string }>();
  for (const part of stage.circuit.parts) {
    if (part.kind !== 'typed' || (part.type.kind !== 'npn' && part.type.kind !== 'pnp')) continue;
    if (part.leads.collector === part.leads.emitter) continue;
    const shorted = varyStage(stage, shortCircuit(stage.circuit, part.ref));
    if (shorted === null) continue;
    for (const each of stage.circuit.parts) {
      if (each.kind !== 'capacitor') continue;
      const { network, point } = shorted;
      const volts = Math.abs(nodeVolts(network, point, each.plus) - nodeVolts(network, point, each.minus));
      if (volts > (worst.get(each.ref)?.volts ?? 0)) worst.set(each.ref, { volts, by: part.ref });
    }
  }
  return worst;
}

function shortCircuit(circuit: Circuit, ref: string): Circuit {
  return agePart(circuit, ref, { kind: 'junction_short', junction: 'collector_emitter' });
}
