import type { NodeName } from '@curvewright/board';
import { beyond, isTwoLead, type Branches, type Way } from './branches.ts';
import type { Piece } from './piece.ts';
import { markBoxes } from './marks.ts';
import { movedLeads, type Plan, type Shape } from './plan.ts';
import { moved } from './room.ts';
import type { Box, Spot } from './scene.ts';
import { span } from './symbols.ts';
import { upright } from './turns.ts';

/** Squares from one branch to the next at the least. */
const branchStep = 2;

/**
 * Hangs what leads from a node to common below it, and what leads to a rail above it, in columns from a spot to the right.
 * Returns the x from which the node's wire may go on.
 */
export function hang(plan: Plan, branches: Branches, node: NodeName, from: Spot): number {
  let { x } = from;
  for (const way of ['up', 'down'] as const) {
    let column = from.x;
    for (const piece of branchesFrom(plan, branches, node, way)) {
      column = hangOne(plan, branches, piece, node, way, { x: column, y: from.y }) + branchStep;
      x = Math.max(x, column);
    }
  }
  return x;
}

/** Those that have no place yet. */
function branchesFrom(plan: Plan, { homes, anchored }: Branches, node: NodeName, way: Way): readonly Piece[] {
  const root = anchored.has(node) ? node : homes.get(node)?.root;
  return plan.net.pieces.filter((piece) => {
    if (!isTwoLead(piece) || plan.placed.has(piece.ref) || !piece.leads.some((lead) => lead.node === node))
      return false;
    const other = beyond(piece, node);
    switch (plan.net.role(other)) {
      case 'signal': {
        const home = homes.get(other);
        return home !== undefined && home.root === root && home.way === way && plan.spotsOf(other).length === 0;
      }
      case 'rail above':
        return way === 'up';
      case 'common':
      case 'rail below':
        return way === 'down';
    }
  });
}

/** Returns its column. */
function hangOne(plan: Plan, branches: Branches, piece: Piece, node: NodeName, way: Way, from: Spot): number {
  const shape = plan.shape(piece, upright(piece, node, way === 'down'));
  const other = beyond(piece, node);
  const lower = chainBelow(plan, branches, other, piece, way);
  const top = way === 'up' ? from.y - span : from.y;
  const origin = shape.turn.quarters === 1 ? 0 : span;
  const boxes = [...shape.boxes.map((box) => moved(box, 0, origin)), ...lower];
  const x = plan.across(boxes, movedLeads(shape.leads, 0, origin), from.x, top);
  const part = plan.put(shape, x, top + origin);
  const end = part.leads.find((lead) => lead.node === other)?.at ?? from;
  const role = plan.net.role(other);
  if (role === 'rail above') {
    plan.aloft.push({ node: other, from: end });
    plan.room.takeUpwards({
      left: end.x - 2,
      right: Math.max(end.x + 2, rightOf(shape, end.x)),
      top: end.y,
      bottom: end.y,
    });
  } else if (role !== 'signal') {
    plan.mark(role, other, end);
    plan.joins.push({ node: other, spots: [end] });
  } else hang(plan, branches, other, { x: end.x, y: end.y + (way === 'down' ? chainGap(plan) : 0) });
  return part.leads.find((lead) => lead.node === node)?.at.x ?? x;
}

function rightOf({ boxes }: Shape, x: number): number {
  return x + Math.max(...boxes.map(({ right }) => right));
}

/** Room for what will hang straight below a part that does not end the branch, relative to the part's top. */
function chainBelow(plan: Plan, branches: Branches, node: NodeName, above: Piece, way: Way): readonly Box[] {
  if (way === 'up') return [];
  const role = plan.net.role(node);
  if (role !== 'signal') return markBoxes(role, node).map((box) => moved(box, 0, span));
  const next = plan.net.pieces.some(
    (piece) => piece !== above && isTwoLead(piece) && piece.leads.some((lead) => lead.node === node),
  );
  return next && branches.homes.has(node)
    ? [{ left: -1, right: 6, top: span, bottom: 2 * span + chainGap(plan) + 1 }]
    : [];
}

/** Squares between a part and the next one of a branch, for what is written at their node. */
function chainGap({ nodeRoom }: Plan): number {
  return nodeRoom > 0 ? 2 : 0;
}
