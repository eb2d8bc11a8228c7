import type { Diagnostic } from '@curvewright/board';
import { unknownOf, type Network } from './network.ts';
import { common } from './elements.ts';
import { createEquations } from './equations.ts';
import { attempts, straight, type BiasMethod } from './attempts.ts';
import { diagnoseNoBias } from './no-bias.ts';
import { createSearch, toleranceOf, type Search } from './newton.ts';

/** The solved bias: plain data, one entry per unknown of the network. */
export interface OperatingPoint {
  /** V for nodes and op-amp drives, A for branch currents. */
  readonly x: Float64Array;
  /** Control voltages of all devices in order. */
  readonly controls: Float64Array;
  readonly method: BiasMethod;
  /** Newton steps taken in all. */
  readonly steps: number;
  /** Largest Kirchhoff sum (A) of a node over what rounding allows; at most 1. */
  readonly kirchhoffRatio: number;
  /** Largest Kirchhoff sum of any node, A. */
  readonly kirchhoffAmps: number;
}

export type BiasResult =
  { readonly ok: true; readonly point: OperatingPoint } | { readonly ok: false; readonly diagnostic: Diagnostic };

/**
 * Finds the DC bias of all channels in one solve: damped Newton with junction limiting from the devices' own start; then
 * a shunt at every node lowered in steps; then the rails raised in steps; then a damped start-up in time. Refuses with
 * the node and part that would not settle.
 */
export function solveBias(network: Network, near?: OperatingPoint): BiasResult {
  const search = createSearch(createEquations(network));
  if (near?.x.length === network.size) {
    search.x.set(near.x);
    search.equations.controls.set(near.controls);
    if (straight(search)) return { ok: true, point: pointOf(search, 'newton') };
  }
  for (const { method, find } of attempts) {
    search.reset();
    if (find(search)) return { ok: true, point: pointOf(search, method) };
  }
  return { ok: false, diagnostic: diagnoseNoBias(search) };
}

/** V of a node at the bias. */
export function nodeVolts(network: Network, point: OperatingPoint, node: string): number {
  const unknown = unknownOf(network, node);
  return unknown === common ? 0 : point.x[unknown]!;
}

function pointOf(search: Search, method: BiasMethod): OperatingPoint {
  const { equations } = search;
  let kirchhoffRatio = 0;
  let kirchhoffAmps = 0;
  equations.network.names.forEach(({ kind }, row) => {
    if (kind !== 'node' && kind !== 'inner node') return;
    const amps = Math.abs(equations.residual[row]!);
    kirchhoffAmps = Math.max(kirchhoffAmps, amps);
    kirchhoffRatio = Math.max(kirchhoffRatio, amps / toleranceOf(equations, row));
  });
  return {
    x: search.x.slice(),
    controls: equations.controls.slice(),
    method,
    steps: search.steps,
    kirchhoffRatio,
    kirchhoffAmps,
  };
}
