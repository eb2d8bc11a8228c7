import type { Join, Plan } from './plan.ts';
import { meet } from './room.ts';
import type { Mark, PlacedPart, Spot, Text } from './scene.ts';

/** What of a plan is drawn. */
export interface Standing {
  readonly parts: readonly PlacedPart[];
  readonly marks: readonly Mark[];
  readonly texts: readonly Text[];
  readonly joins: readonly Join[];
}

/** A plan without some of its parts: with them go their texts, and the marks that stood at their leads alone. */
export function standingOf(plan: Plan, isDrawn: (ref: string) => boolean): Standing {
  const parts = [...plan.placed.values()].filter(({ ref }) => isDrawn(ref));
  const gone = new Set([...plan.placed.keys()].filter((ref) => !isDrawn(ref)));
  const leads = parts.flatMap((part) => part.leads);
  const hasLead = (at: Spot, node: string): boolean => leads.some((lead) => lead.node === node && isSame(lead.at, at));
  const isMark = (at: Spot, node: string): boolean =>
    plan.marks.some((mark) => mark.node === node && isSame(mark.at, at));
  const joins = plan.joins
    .filter(({ node, spots }) => spots.some((at) => hasLead(at, node)))
    .map(({ node, spots }) => ({ node, spots: spots.filter((at) => hasLead(at, node) || isMark(at, node)) }));
  const marks = plan.marks.filter(
    ({ kind, node, at }) =>
      kind === 'input' ||
      kind === 'output' ||
      joins.some((join) => join.node === node && join.spots.some((spot) => isSame(spot, at))),
  );
  const left = plan.marks.filter((mark) => !marks.includes(mark));
  const isOf = ({ of, box }: Text, { node, body }: Mark): boolean => of === node && meet(box, body, nameReach);
  const texts = plan.texts.filter((text) => !gone.has(text.of) && !left.some((mark) => isOf(text, mark)));
  return { parts, marks, texts, joins };
}

/** Squares between a mark and its name at the most. */
const nameReach = 0.5;

function isSame(a: Spot, b: Spot): boolean {
  return a.x === b.x && a.y === b.y;
}
