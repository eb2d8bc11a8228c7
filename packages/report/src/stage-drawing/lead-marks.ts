import type { NodeName } from '@curvewright/board';
import { markBoxes } from './marks.ts';
import type { Piece } from './piece.ts';
import type { Plan } from './plan.ts';
import type { Mark, Spot } from './scene.ts';

/** Names and common bars at leads that stand on no signal node; rails above wait for their height. */
export function markLeads(plan: Plan, { ref }: Piece): void {
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

/** A mark where it finds room nearest to a lead, and a wire to it. */
export function markNear(plan: Plan, kind: Mark['kind'], node: NodeName, at: Spot): void {
  const mark = plan.near(markBoxes(kind, node), at);
  plan.mark(kind, node, mark);
  plan.joins.push({ node, spots: [at, mark] });
}
