import type { NodeName } from '@curvewright/board';
import { beyond, isTwoLead, type Branches } from './branches.ts';
import type { Piece } from './piece.ts';
import { markBoxes } from './marks.ts';
import { movedLeads, type Plan } from './plan.ts';
import { around, moved } from './room.ts';
import type { Box } from './scene.ts';
import { span } from './symbols.ts';
import { stacked } from './stacked.ts';
import { left, lying } from './turns.ts';

/** Squares between parts of a row. */
const leastGap = 2;

/** Puts the rails' marks at one height and then every part that joins two nodes across the drawing: over the top, or below. */
export function placeRows(plan: Plan, branches: Branches, path: readonly NodeName[]): void {
  closeTop(plan);
  for (;;) {
    const row = nextRow(plan, branches);
    if (row === null) break;
    place(plan, row, path);
  }
}

function closeTop(plan: Plan): void {
  const { aloft, room, marks, placed } = plan;
  const heights = [
    ...[...placed.values()].flatMap(({ body, leads }) => [body.top, ...leads.map(({ at }) => at.y)]),
    ...marks.map(({ body }) => body.top),
  ];
  const top = Math.floor(Math.min(...heights)) - 1;
  room.closeSky(top);
  for (const { node, from } of aloft) {
    const end = { lead: '', node, at: { x: 0, y: 0 } };
    const at = { x: plan.across(markBoxes('rail above', node), [end], from.x, top), y: top };
    plan.mark('rail above', node, at);
    plan.joins.push({ node, spots: [from, at] });
  }
}

/** Parts between two nodes that stand already, from the left one to the right one; those of a hop are side by side. */
interface Row {
  readonly from: NodeName;
  readonly to: NodeName;
  readonly hops: readonly (readonly Piece[])[];
  /** The nodes at the left of each hop. */
  readonly nodes: readonly NodeName[];
}

function nextRow(plan: Plan, { anchored }: Branches): Row | null {
  const open = plan.net.pieces.filter((piece) => isTwoLead(piece) && !plan.placed.has(piece.ref));
  const stands = (node: NodeName): boolean => plan.spotsOf(node).length > 0 && plan.net.role(node) === 'signal';
  const starts = [...new Set(open.flatMap(({ leads }) => leads.map(({ node }) => node)))].filter(stands);
  for (const start of starts) {
    const ways = new Map<NodeName, readonly NodeName[]>([[start, [start]]]);
    for (const [node, way] of ways) {
      for (const piece of open.filter(({ leads }) => leads.some((lead) => lead.node === node))) {
        const other = beyond(piece, node);
        if (ways.has(other) || plan.net.role(other) !== 'signal') continue;
        if (stands(other)) return rowAlong(plan, open, [...way, other]);
        if (!anchored.has(other)) ways.set(other, [...way, other]);
      }
    }
  }
  return null;
}

function rowAlong(plan: Plan, open: readonly Piece[], way: readonly NodeName[]): Row {
  const [first = '', last = ''] = [way[0], way.at(-1)];
  const nodes = middleOf(plan, first) <= middleOf(plan, last) ? way : way.toReversed();
  const between = (a: NodeName, b: NodeName): readonly Piece[] =>
    open.filter(({ leads }) => leads.some(({ node }) => node === a) && leads.some(({ node }) => node === b));
  return {
    from: nodes[0] ?? '',
    to: nodes.at(-1) ?? '',
    hops: nodes.slice(1).map((node, n) => between(nodes[n] ?? '', node)),
    nodes,
  };
}

function middleOf(plan: Plan, node: NodeName): number {
  const xs = plan.spotsOf(node).map(({ x }) => x);
  return (Math.min(...xs) + Math.max(...xs)) / 2;
}

/** Over the top where the right end is on the way of the signal, else below: feedback for the bias comes from an emitter. */
function place(plan: Plan, { from, to, hops, nodes }: Row, path: readonly NodeName[]): void {
  const goesOver = path.includes(to) || isAbove(plan, to);
  const up = goesOver ? -1 : 1;
  const gap = leastGap + plan.nodeRoom;
  const length = hops.length * (span + gap) - gap;
  const [start, end] = [from, to].map(
    (node) => (goesOver ? plan.shafts.get(node) : undefined) ?? middleOf(plan, node),
  ) as [number, number];
  const x = Math.round((start + end - length) / 2);
  const shapes = hops.flatMap((pieces, h) =>
    stacked(
      pieces.map((piece) => plan.shape(piece, lying(piece, nodes[h] ?? ''))),
      up,
    ).map((each) => ({ ...each, x: h * (span + gap) })),
  );
  const boxes = shapes.flatMap((each) => each.shape.boxes.map((box) => moved(box, each.x + left(each.shape), each.y)));
  const air: Box = { ...around(boxes), left: Math.min(start - x, 0), right: Math.max(end - x, length) };
  const corridor: Box = { left: air.left, right: air.right, top: -0.5, bottom: 0.5 };
  const levels = [...plan.spotsOf(from), ...plan.spotsOf(to)].map(({ y }) => y);
  let y = goesOver ? Math.min(...levels) - 2 : Math.max(...levels) + 2;
  const leads = shapes.flatMap((each) => movedLeads(each.shape.leads, each.x + left(each.shape), each.y));
  while (!plan.fits([...boxes, corridor], leads, x, y)) y += up;
  for (const { shape, ...at } of shapes) plan.put(shape, x + at.x + left(shape), y + at.y);
}

/** A p-type stage's emitter stands above its output. */
function isAbove(plan: Plan, node: NodeName): boolean {
  return [...plan.placed.values()].some(
    ({ kind, leads, at }) =>
      (kind === 'pnp' || kind === 'jfet-p') && leads.some((lead) => lead.node === node && lead.at.y < at.y),
  );
}
