import type { NodeName } from '@curvewright/board';
import type { OperatingPoint } from './bias.ts';
import { unknownOf, type Network } from './network.ts';
import { common, type Unknown } from './elements.ts';
import { deviceWindows } from './device-windows.ts';

/** Bias current into each lead of a device, by lead name (A). */
export function deviceCurrents(network: Network, point: OperatingPoint, ref: string): Readonly<Record<string, number>> {
  const index = network.devices.findIndex((placed) => placed.ref === ref);
  if (index < 0) throw new Error(`${ref} is no device of this network`);
  const { device } = network.devices[index]!;
  const { at, currents, slopes } = deviceWindows(network, point.controls)[index]!;
  device.evaluate(at, currents, slopes);
  return Object.fromEntries(device.leads.map((lead, i) => [lead, currents[i]!]));
}

/** Bias current (A) into a two-lead part at its lead on `node`: conductances and branches that carry its designator. */
export function currentInto(network: Network, point: OperatingPoint, ref: string, node: NodeName): number {
  const at = unknownOf(network, node);
  const volts = (u: Unknown): number => (u === common ? 0 : point.x[u]!);
  let amps = 0;
  for (const { ref: owner, a, b, siemens } of network.conductances) {
    if (owner !== ref) continue;
    if (a === at) amps += siemens * (volts(a) - volts(b));
    else if (b === at) amps += siemens * (volts(b) - volts(a));
  }
  for (const { ref: owner, a, b, current } of network.branches) {
    if (owner !== ref) continue;
    if (a === at) amps += point.x[current]!;
    else if (b === at) amps -= point.x[current]!;
  }
  return amps;
}

/** What an op-amp strives for and whether its output stands at a limit: drive and output differ there. */
export function amplifierState(
  network: Network,
  point: OperatingPoint,
  ref: string,
): { outV: number; limited: boolean } {
  const placed = network.amplifiers.find((candidate) => candidate.ref === ref);
  if (!placed) throw new Error(`${ref} is no op-amp of this network`);
  const outV = placed.out === common ? 0 : point.x[placed.out]!;
  const reached = outV - placed.model.Rout * point.x[placed.current]!;
  return { outV, limited: Math.abs(point.x[placed.drive]! - reached) > 1e-3 };
}

/** A (positive out of the supply into the board) that a rail delivers. */
export function railAmps(network: Network, point: OperatingPoint, rail: NodeName): number {
  const branch = network.branches.find((candidate) => candidate.rail && candidate.ref === rail);
  if (!branch) throw new Error(`no rail ${rail} in this network`);
  return -point.x[branch.current]!;
}
