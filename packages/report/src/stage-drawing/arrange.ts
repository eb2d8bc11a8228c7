import type { NodeName } from '@curvewright/board';
import { walkThrough } from './along.ts';
import { reachOf } from './active-part.ts';
import { branchesOf, isTwoLead } from './branches.ts';
import { hang } from './hang.ts';
import { markLeads, markNear } from './lead-marks.ts';
import { createPlan, leadOf, type Plan, type PlanRequest } from './plan.ts';
import { placeRows } from './rows.ts';
import type { Box } from './scene.ts';
import { isPlaced, keepShaft, leadsOn } from './shafts.ts';
import { signalPath } from './signal-path.ts';
import { placeSupplies } from './supply-block.ts';
import { standing } from './turns.ts';
import { step, type Walk } from './walk.ts';

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
  placeRows(
    plan,
    branches,
    path.map(({ node }) => node),
  );
  placeSupplies(plan, walk.x);
  placeRest(plan);
  return plan;
}

function endAt(walk: Walk, node: NodeName): void {
  const { plan } = walk;
  const box: Box = { left: -1, right: 4, top: -1, bottom: 1 };
  const x = plan.across([box], [], walk.x + 1, walk.y);
  plan.mark('output', node, { x, y: walk.y });
  walk.x = x + 4;
}

/** What no way of the signal leads through: each beside something that it is joined to, or at the end. */
function placeOthers(walk: Walk): void {
  const { plan, branches } = walk;
  const waiting = plan.net.pieces.filter((piece) => !isTwoLead(piece) && !plan.placed.has(piece.ref));
  while (waiting.length > 0) {
    const next = Math.max(
      0,
      waiting.findIndex(({ leads }) => leads.some(({ node }) => isPlaced(plan, node))),
    );
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
