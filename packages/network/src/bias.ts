import type { Diagnostic } from '@curvewright/board';
import { unknownOf, type Network } from './compile.ts';
import { common } from './elements.ts';
import { createEquations } from './equations.ts';
import { diagnoseNoBias } from './no-bias.ts';
import { createSearch, toleranceOf, type Search } from './newton.ts';

/** How the bias was found: straight, or with which fallback. */
export type BiasMethod = 'newton' | 'shunt lowered' | 'rails raised' | 'start-up';

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
  | { readonly ok: true; readonly point: OperatingPoint }
  | { readonly ok: false; readonly diagnostic: Diagnostic };

/**
 * Finds the DC bias of all channels in one solve: damped Newton with junction limiting from the devices' own start; then
 * a shunt at every node lowered in steps; then the rails raised in steps; then a damped start-up in time. Refuses with
 * the node and part that would not settle.
 */
export function solveBias(network: Network, near?: OperatingPoint): BiasResult {
  const search = createSearch(createEquations(network));
  const attempts: readonly [BiasMethod, (search: Search) => boolean][] = [
    ['newton', straight],
    ['shunt lowered', lowerShunt],
    ['rails raised', raiseRails],
    ['start-up', startUp],
  ];
  if (near !== undefined && near.x.length === network.size) {
    search.x.set(near.x);
    search.equations.controls.set(near.controls);
    if (straight(search)) return { ok: true, point: pointOf(search, 'newton') };
  }
  for (const [method, attempt] of attempts) {
    search.reset();
    if (attempt(search)) return { ok: true, point: pointOf(search, method) };
  }
  return { ok: false, diagnostic: diagnoseNoBias(search) };
}

/** V of a node at the bias. */
export function nodeVolts(network: Network, point: OperatingPoint, node: string): number {
  const unknown = unknownOf(network, node);
  return unknown === common ? 0 : point.x[unknown]!;
}

function straight(search: Search): boolean {
  return search.run({ rails: 1, shunt: 0, anchor: null }, { steps: 100, looseness: 1 }).kind === 'converged';
}

const stage = { steps: 60, looseness: 1e6 };

function lowerShunt(search: Search): boolean {
  const walked = walk(search, 1e-1, (decades) => ({ rails: 1, shunt: 10 ** decades, anchor: null }), -1, -13);
  return walked && straight(search);
}

function raiseRails(search: Search): boolean {
  return walk(search, 0.05, (rails) => ({ rails, shunt: 0, anchor: null }), 0, 1) && straight(search);
}

/** Steps a parameter from `from` to `to`, halving the step where the search does not settle, doubling it where it does. */
function walk(
  search: Search,
  smallest: number,
  reliefAt: (parameter: number) => Parameters<Search['run']>[0],
  from: number,
  to: number,
): boolean {
  const heldX = search.x.slice();
  const heldControls = search.equations.controls.slice();
  const direction = Math.sign(to - from);
  if (search.run(reliefAt(from), stage).kind !== 'converged') return false;
  let at = from;
  let stride = Math.abs(to - from) / 12;
  while (at !== to) {
    heldX.set(search.x);
    heldControls.set(search.equations.controls);
    const next = Math.abs(to - at) <= stride ? to : at + direction * stride;
    if (search.run(reliefAt(next), stage).kind === 'converged') {
      at = next;
      stride *= 2;
      continue;
    }
    search.x.set(heldX);
    search.equations.controls.set(heldControls);
    stride /= 2;
    if (stride < smallest * 1e-3) return false;
  }
  return true;
}

/**
 * A switch-on with equal capacitances from every node to gnd, by backward Euler with a growing step: the shunt stands for
 * C/h, its anchor for the voltages of the step before (pseudo-transient continuation: Kelley & Keyes, SIAM J. Numer.
 * Anal. 35, 1998).
 */
function startUp(search: Search): boolean {
  const anchor = search.x.slice();
  const heldControls = search.equations.controls.slice();
  let shunt = 1;
  for (let n = 0; n < 400; n++) {
    if (search.run({ rails: 1, shunt, anchor }, stage).kind === 'converged') {
      anchor.set(search.x);
      heldControls.set(search.equations.controls);
      shunt /= 2;
      if (shunt < 1e-15) return straight(search);
    } else {
      search.x.set(anchor);
      search.equations.controls.set(heldControls);
      shunt *= 8;
      if (shunt > 1e6) return false;
    }
  }
  return false;
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
