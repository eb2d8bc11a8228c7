import type { Circuit, Outcome } from '@curvewright/board';
import {
  compileNetwork,
  idealSource,
  inspectCircuit,
  linearise,
  solveBias,
  type Network,
  type OperatingPoint,
  type SmallSignal,
  type Source,
} from '@curvewright/network';

/** A circuit with its bias and the network linearised there: what every question starts from. */
export interface Stage {
  readonly circuit: Circuit;
  readonly source: Source;
  readonly network: Network;
  readonly point: OperatingPoint;
  readonly small: SmallSignal;
}

/** Inspects the circuit, finds its bias (from `near` where that is a stage of the same shape) and linearises it there. */
export function solveStage(circuit: Circuit, source: Source = idealSource, near?: Stage): Outcome<Stage> {
  const diagnostics = inspectCircuit(circuit);
  return diagnostics.length > 0 ? { ok: false, diagnostics } : solveInspected(circuit, source, near);
}

/** A solved stage with some parts changed, which adds no node: not inspected anew. Null where that has no bias. */
export function varyStage(stage: Stage, circuit: Circuit): Stage | null {
  const varied = solveInspected(circuit, stage.source, stage);
  return varied.ok ? varied.value : null;
}

function solveInspected(circuit: Circuit, source: Source, near: Stage | undefined): Outcome<Stage> {
  const network = compileNetwork(circuit, source);
  const bias = solveBias(network, near && isAlike(network, near.network) ? near.point : undefined);
  if (!bias.ok) return { ok: false, diagnostics: [bias.diagnostic] };
  const small = linearise(network, bias.point);
  return { ok: true, value: { circuit, source, network, point: bias.point, small } };
}

/** Whether a point of the one network is a point of the other: the same unknowns and devices in the same order. */
function isAlike(a: Network, b: Network): boolean {
  const shape = ({ names, devices }: Network): string =>
    JSON.stringify([names, devices.map(({ ref, device }) => [ref, device.leads])]);
  return a.size === b.size && shape(a) === shape(b);
}
