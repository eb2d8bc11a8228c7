import type { NodeName } from '@curvewright/board';
import { beyond, branchesOf, isTwoLead, type Branches } from './branches.ts';
import { hang } from './hang.ts';
import type { Piece } from './piece.ts';
import { createPlan, leadOf, markBoxes, movedLeads, type Plan, type PlanRequest, type Shape } from './plan.ts';
import { moved } from './room.ts';
import { placeRows } from './rows.ts';
import type { Box, Mark, Spot } from './scene.ts';
import { signalPath, type PathStep } from './signal-path.ts';
import { placeSupplies } from './supply-block.ts';
import { stacked } from './stacked.ts';
import { span } from './symbols.ts';
import { left, lying, standing } from './turns.ts';

/** Squares between the end of a part and the next. */
const step = 2;

/**
 * Gives every part of a channel its place: active parts from left to right in the order in which they amplify, each at the height of
 * what drives it; what leads to common below its node, what leads to a rail above; feedback over the top, or below
 * where it comes from below. Rails stand at one height.
 */
export function arrange(request: PlanRequest): Plan {
  const plan = createPlan(request);
  const { net } = plan;
  const path = signalPath(net);
  const branches = branchesOf(net, path);
  const walk: Walk = { plan, branches, x: 0, y: 0 };
  plan.mark('input', net.input, { x: 0, y: 0 });
  walk.x = step;
  for (const { node, through } of path) {
    if (through !== null) walkThrough(walk, node, through);
    walk.x = hang(plan, branches, node, { x: walk.x, y: walk.y });
    if (leadsOn(plan, node, true)) walk.x = keepShaft(plan, node, { x: walk.x, y: walk.y }) + 1;
    if (node === net.output) endAt(walk, node);
  }
  placeOthers(walk);
  placeRows(plan, branches, path.map(({ node }) => node));
  placeSupplies(plan, walk.x);
  placeRest(plan);
  return plan;
}

interface Walk {
  readonly plan: Plan;
  readonly branches: Branches;
  /** Where the next part may begin, and the height of the wire that leads there. */
  x: number;
  y: number;
}

function endAt(walk: Walk, node: NodeName): void {
  const { plan } = walk;
  const box: Box = { left: -1, right: 4, top: -1, bottom: 1 };
  const x = plan.across([box], [], walk.x + 1, walk.y);
  plan.mark('output', node, { x, y: walk.y });
  walk.x = x + 4;
}

function walkThrough(walk: Walk, node: NodeName, { piece, enter, leave }: NonNullable<PathStep['through']>): void {
  if (isTwoLead(piece)) walkAlong(walk, piece, enter, node);
  else walkStage(walk, piece, enter, leave);
}

/** A part in the way of the signal, and beside it what joins the same nodes. */
function walkAlong(walk: Walk, piece: Piece, enter: string, to: NodeName): void {
  const { plan } = walk;
  const from = piece.leads.find(({ lead }) => lead === enter)?.node ?? '';
  const beside = plan.net.pieces.filter(
    (each) => isTwoLead(each) && each !== piece && joins(each, from, to) && !plan.placed.has(each.ref),
  );
  const pile = stacked([piece, ...beside].map((each) => plan.shape(each, lying(each, from))), -1);
  const boxes = pile.flatMap(({ shape, y }) => shape.boxes.map((box) => moved(box, left(shape), y)));
  const leads = pile.flatMap(({ shape, y }) => movedLeads(shape.leads, left(shape), y));
  const x = plan.across(boxes, leads, walk.x, walk.y);
  const parts = pile.map(({ shape, y }) => plan.put(shape, x + left(shape), walk.y + y));
  const end = parts[0]?.leads.find(({ node }) => node === to)?.at ?? { x: x + span, y: walk.y };
  walk.x = end.x + 1;
  walk.y = end.y;
}

function joins({ leads }: Piece, a: NodeName, b: NodeName): boolean {
  return leads.some(({ node }) => node === a) && leads.some(({ node }) => node === b);
}

/** An active part: what hangs from its other controls before it, the part, and what hangs from its other leads. */
function walkStage(walk: Walk, piece: Piece, enter: string, leave: string): void {
  const { plan, branches } = walk;
  const shape = plan.shape(piece, standing(piece, plan.net));
  const entry = leadOf(shape, enter);
  const others = piece.leads.filter(({ lead, node }) => lead !== leave && lead !== enter && plan.net.role(node) === 'signal');
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
function reachOf(plan: Plan, branches: Branches, node: NodeName, at: Spot): readonly Box[] {
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

/** Whether parts without a place lead from the node to another one: that stands already, or that does not. */
function leadsOn(plan: Plan, node: NodeName, toStanding: boolean): boolean {
  const open = plan.net.pieces.filter((piece) => isTwoLead(piece) && !plan.placed.has(piece.ref));
  const reached = new Set([node]);
  for (const at of reached) {
    for (const piece of open.filter(({ leads }) => leads.some((lead) => lead.node === at))) {
      const other = beyond(piece, at);
      if (plan.net.role(other) !== 'signal' || reached.has(other)) continue;
      if (isPlaced(plan, other) === toStanding) return true;
      if (!isPlaced(plan, other)) reached.add(other);
    }
  }
  return false;
}

/** Keeps a way free from a node to what comes over the top. Returns its x. */
function keepShaft(plan: Plan, node: NodeName, { x, y }: Spot): number {
  const shaft: Box = { left: -0.5, right: 0.5, top: -3 * span, bottom: 0 };
  const at = plan.across([shaft], [], x, y);
  plan.room.takeUpwards({ left: at - 0.5, right: at + 0.5, top: y, bottom: y });
  plan.shafts.set(node, at);
  return at;
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
  return stacked(shapes, out.y < 0 ? -1 : 1).map(({ shape, y }) => ({ shape, x: out.x - 3 - span + left(shape), y: level + y }));
}

/** Names and common bars at leads that stand on no signal node; rails above wait for their height. */
function markLeads(plan: Plan, { ref }: Piece): void {
  const leads = plan.placed.get(ref)?.leads ?? [];
  for (const { node, at } of leads.filter((lead) => plan.net.role(lead.node) === 'rail above')) {
    plan.aloft.push({ node, from: at });
    plan.room.takeUpwards({ left: at.x - 2, right: at.x + 2, top: at.y, bottom: at.y });
  }
  for (const { node, at } of leads) {
    const role = plan.net.role(node);
    if (role !== 'signal' && role !== 'rail above') markNear(plan, role, node, at);
  }
}

function markNear(plan: Plan, kind: Mark['kind'], node: NodeName, at: Spot): void {
  const mark = plan.near(markBoxes(kind, node), at);
  plan.mark(kind, node, mark);
  plan.joins.push({ node, spots: [at, mark] });
}

/** What no way of the signal leads through: each beside something that it is joined to, or at the end. */
function placeOthers(walk: Walk): void {
  const { plan, branches } = walk;
  const waiting = plan.net.pieces.filter((piece) => !isTwoLead(piece) && !plan.placed.has(piece.ref));
  while (waiting.length > 0) {
    const next = Math.max(0, waiting.findIndex(({ leads }) => leads.some(({ node }) => isPlaced(plan, node))));
    const [piece] = waiting.splice(next, 1);
    if (piece === undefined) return;
    const shape = plan.shape(piece, standing(piece, plan.net));
    const near = piece.leads.find(({ node }) => isPlaced(plan, node));
    const spots = near === undefined ? [] : plan.spotsOf(near.node);
    const start = spots.toSorted((a, b) => b.x - a.x)[0] ?? { x: walk.x, y: walk.y };
    const reach = piece.leads.flatMap(({ lead, node }) => reachOf(plan, branches, node, leadOf(shape, lead)));
    const wide: Box = { left: -4, right: 4, top: -4, bottom: 4 };
    const x = plan.across([wide, ...shape.boxes, ...reach], shape.leads, start.x + 4, start.y);
    plan.put(shape, x, start.y);
    markLeads(plan, piece);
    for (const { lead, node } of piece.leads) {
      if (plan.net.role(node) !== 'signal') continue;
      hang(plan, branches, node, plan.leadSpot(piece.ref, lead));
    }
    walk.x = Math.max(walk.x, x + 4);
  }
}

/** What hangs on nothing that stands: in a line below everything. */
function placeRest(plan: Plan): void {
  const y = Math.ceil(Math.max(0, ...[...plan.placed.values()].map(({ body }) => body.bottom))) + 6;
  for (const piece of plan.net.pieces.filter(({ ref }) => !plan.placed.has(ref))) {
    const shape = plan.shape(piece, standing(piece, plan.net));
    const { leads } = plan.put(shape, plan.across(shape.boxes, shape.leads, 0, y), y);
    for (const { node, at } of leads) {
      const role = plan.net.role(node);
      if (role !== 'signal') markNear(plan, role, node, at);
    }
  }
}

function isPlaced(plan: Plan, node: NodeName): boolean {
  return plan.net.role(node) === 'signal' && plan.spotsOf(node).length > 0;
}
