import { leadsOf, toleranceOf, type Part } from '@curvewright/board';
import { createLiveBoard, nodeVolts, unknownOf } from '@curvewright/network';
import type { Stage } from '../stage.ts';
import { drawBoard, drawsOf, writeValues } from './draw.ts';
import { reachVolts, type NodeSpread } from './reach.ts';

/** Enough for the 5 % and 95 % points to lie within a tenth of the band's width, nine times in ten. */
const usualBoards = 400;

/**
 * How far the bias of each node (full names) lies apart on healthy boards, from a small run of its own; empty where no board can be solved.
 * `matched` are groups of designators that are drawn alike.
 */
export function nodeBands(
  { circuit, network, point }: Stage,
  matched: readonly (readonly string[])[],
  { boards = usualBoards, seed = 1 }: { readonly boards?: number; readonly seed?: number } = {},
): readonly NodeSpread[] {
  // The bias knows no frequency; a live board has one at least.
  const live = createLiveBoard(network, point, Float64Array.of(1000));
  if (live === null) return [];
  const draws = drawsOf(circuit, live.parameters, matched);
  const names = [...network.nodes.keys()];
  const unknowns = names.map((node) => unknownOf(network, node));
  const volts = names.map(() => new Float32Array(boards).fill(NaN));
  const values = new Float64Array(live.parameters.length);
  const drawn = new Float64Array(draws.groups.length);
  for (let board = 0; board < boards; board++) {
    drawBoard(draws, seed, board, drawn);
    writeValues(draws, drawn, values);
    if (live.solve(values)) unknowns.forEach((unknown, n) => (volts[n]![board] = live.x[unknown]!));
  }
  return names.map((node, n) => ({ node, ...reachVolts(volts[n]!, nodeVolts(network, point, node)) }));
}

/**
 * V by which the bias of each node (full names) strays from nominal on healthy boards, either way; without the nodes on which a part stands
 * whose own spread the file leaves open.
 */
export function nodeReach(stage: Stage, matched: readonly (readonly string[])[]): ReadonlyMap<string, number> {
  const open = new Set(
    stage.circuit.parts.filter((part) => !isBounded(part)).flatMap((part) => Object.values(leadsOf(part))),
  );
  return new Map(
    nodeBands(stage, matched)
      .filter(({ node }) => !open.has(node))
      .map(({ node, nominalV, worstLowV, worstHighV }) => [
        node,
        Math.max(worstHighV - nominalV, nominalV - worstLowV),
      ]),
  );
}

/** Whether the spread moves all of this part that the bias follows; figures of diodes, FETs and valves are not drawn for. */
function isBounded(part: Part): boolean {
  switch (part.kind) {
    case 'resistor':
    case 'trimmer':
      return toleranceOf(part) !== null;
    case 'typed':
      if (part.type.kind === 'opamp') return true;
      return (part.type.kind === 'npn' || part.type.kind === 'pnp') && part.type.hFEHigh !== undefined;
    // A capacitor's leakage, an inductor's wire and a contact are what the file says.
    case 'capacitor':
    case 'inductor':
    case 'switch':
      return true;
  }
}
