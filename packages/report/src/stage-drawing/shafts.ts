import type { NodeName } from '@curvewright/board';
import { beyond, isTwoLead } from './branches.ts';
import type { Plan } from './plan.ts';
import type { Box, Spot } from './scene.ts';
import { span } from './symbols.ts';

/** Whether parts without a place lead from the node to another one: that stands already, or that does not. */
export function leadsOn(plan: Plan, node: NodeName, toStanding: boolean): boolean {
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
export function keepShaft(plan: Plan, node: NodeName, { x, y }: Spot): number {
  const shaft: Box = { left: -0.5, right: 0.5, top: -3 * span, bottom: 0 };
  const at = plan.across([shaft], [], x, y);
  plan.room.takeUpwards({ left: at - 0.5, right: at + 0.5, top: y, bottom: y });
  plan.shafts.set(node, at);
  return at;
}

/** Whether a part on this signal node stands already. */
export function isPlaced(plan: Plan, node: NodeName): boolean {
  return plan.net.role(node) === 'signal' && plan.spotsOf(node).length > 0;
}
