import type { NodeName } from '@curvewright/board';
import { beyond, isTwoLead, joins, type Branches } from './branches.ts';
import { hang } from './hang.ts';
import { markLeads } from './lead-marks.ts';
import type { Piece } from './piece.ts';
import { leadOf, movedLeads, type Plan, type Shape } from './plan.ts';
import { moved } from './room.ts';
import type { Box, Spot } from './scene.ts';
import { keepShaft, leadsOn } from './shafts.ts';
import { stacked } from './stacked.ts';
import { span } from './symbols.ts';
import { left, lying, standing } from './turns.ts';
import { step, type Walk } from './walk.ts';

/** An active part: what hangs from its other controls before it, the part, and what hangs from its other leads. */
export function walkStage(walk: Walk, piece: Piece, enter: string, leave: string): void {
  const { plan, branches } = walk;
  const shape = plan.shape(piece, standing(piece, plan.net));
  const entry = leadOf(shape, enter);
  const others = piece.leads.filter(
    ({ lead, node }) => lead !== leave && lead !== enter && plan.net.role(node) === 'signal',
  );
  for (const { lead, node } of others.filter(({ lead }) => leadOf(shape, lead).x < 0)) {
    const level = walk.y - entry.y + leadOf(shape, lead).y;
    walk.x = hang(plan, branches, node, { x: walk.x, y: Math.max(level, walk.y + step) }) + 1;
  }
  const local = localFeedback(plan, piece, enter, leave, shape);
  const boxes = [...shape.boxes, ...local.flatMap((each) => each.shape.boxes.map((box) => moved(box, each.x, each.y)))];
  const reach = piece.leads.flatMap(({ lead, node }) => reachOf(plan, branches, node, leadOf(shape, lead)));
  const leads = [...shape.leads, ...local.flatMap((each) => movedLeads(each.shape.leads, each.x, each.y))];
  const x = plan.across([...boxes, ...reach], leads, walk.x - entry.x + 1, walk.y - entry.y);
  const at = plan.put(shape, x, walk.y - entry.y).at;
  for (const each of local) plan.put(each.shape, at.x + each.x, at.y + each.y);
  markLeads(plan, piece);
  walk.x = at.x;
  for (const { lead, node } of others.filter(({ lead }) => leadOf(shape, lead).x >= 0)) {
    const spot = plan.leadSpot(piece.ref, lead);
    walk.x = Math.max(walk.x, hang(plan, branches, node, spot));
    if (spot.y > at.y && leadsOn(plan, node, false)) keepShaft(plan, node, { x: walk.x, y: spot.y });
  }
  const out = plan.leadSpot(piece.ref, leave);
  walk.x = out.x;
  walk.y = out.y;
}

/** The column that a branch at this lead will take, so that a stage stands where its branches find room. */
export function reachOf(plan: Plan, branches: Branches, node: NodeName, at: Spot): readonly Box[] {
  if (at.x < 0) return [];
  const hanging = plan.net.pieces.filter((piece) => isTwoLead(piece) && piece.leads.some((lead) => lead.node === node));
  const below = hanging.some((piece) => isBranch(plan, branches, beyond(piece, node), 'down'));
  const above = hanging.some((piece) => isBranch(plan, branches, beyond(piece, node), 'up'));
  return [
    ...(below && at.y > 0 ? [{ left: at.x - 1, right: at.x + 6, top: at.y, bottom: at.y + 2 * span }] : []),
    ...(above && at.y < 0 ? [{ left: at.x - 1, right: at.x + 6, top: at.y - span, bottom: at.y }] : []),
  ];
}

function isBranch({ net }: Plan, { homes }: Branches, node: NodeName, way: 'down' | 'up'): boolean {
  const role = net.role(node);
  if (role === 'signal') return homes.get(node)?.way === way;
  return (role === 'rail above') === (way === 'up');
}

interface Beside {
  readonly shape: Shape;
  readonly x: number;
  readonly y: number;
}

/** What joins a stage's control to its output lies on the near side of the output, out of the control's way. */
function localFeedback(plan: Plan, piece: Piece, enter: string, leave: string, stage: Shape): readonly Beside[] {
  const nodeOf = (lead: string): NodeName => piece.leads.find((each) => each.lead === lead)?.node ?? '';
  const [from, to] = [nodeOf(enter), nodeOf(leave)];
  const out = leadOf(stage, leave);
  const control = leadOf(stage, enter);
  if (out.y === 0 || control.y !== 0 || control.x >= 0) return [];
  const shapes = plan.net.pieces
    .filter((each) => isTwoLead(each) && joins(each, from, to) && !plan.placed.has(each.ref))
    .map((each) => plan.shape(each, lying(each, from)));
  // What is written above a part below the control has to stay clear of the control's wire.
  const tops = shapes.flatMap(({ boxes }) => boxes.map(({ top }) => top));
  const level = out.y < 0 ? out.y : Math.max(out.y, Math.ceil(0.5 - Math.min(0, ...tops)));
  return stacked(shapes, out.y < 0 ? -1 : 1).map(({ shape, y }) => ({
    shape,
    x: out.x - 3 - span + left(shape),
    y: level + y,
  }));
}
