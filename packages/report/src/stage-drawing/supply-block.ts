import type { NodeName } from '@curvewright/board';
import { beyond, isTwoLead } from './branches.ts';
import type { Piece } from './piece.ts';
import { markBoxes } from './marks.ts';
import type { Join, Plan, Shape } from './plan.ts';
import { around, moved } from './room.ts';
import type { Box, Mark, Spot } from './scene.ts';
import { span } from './symbols.ts';
import { left, lying, upright } from './turns.ts';

/** Squares between what stands side by side. */
const step = 2;

/** The supply's own parts as they will stand, beside each other along a line at height 0. */
interface Block {
  readonly parts: { readonly shape: Shape; readonly x: number; readonly y: number }[];
  readonly marks: { readonly kind: Mark['kind']; readonly node: NodeName; readonly at: Spot }[];
  readonly joins: Join[];
  /** Where the next one may begin. */
  x: number;
}

/** From each rail to what it feeds, in a block of its own below the end of the stage. */
export function placeSupplies(plan: Plan, end: number): void {
  const block = blockOf(plan);
  if (block.parts.length === 0) return;
  const boxes = [
    ...block.parts.flatMap(({ shape, x, y }) => shape.boxes.map((box) => moved(box, x, y))),
    ...block.marks.flatMap(({ kind, node, at }) => markBoxes(kind, node).map((box) => moved(box, at.x, at.y))),
  ];
  const whole = around(boxes);
  const roomy: Box = {
    left: whole.left - step,
    right: whole.right + step,
    top: whole.top - step,
    bottom: whole.bottom + 1,
  };
  const x = Math.max(0, Math.round(end - whole.right));
  let y = 0;
  while (!plan.room.fits([moved(roomy, x, y)])) y++;
  for (const part of block.parts) plan.put(part.shape, x + part.x, y + part.y);
  for (const { kind, node, at } of block.marks) plan.mark(kind, node, { x: x + at.x, y: y + at.y });
  for (const { node, spots } of block.joins)
    plan.joins.push({ node, spots: spots.map((spot) => ({ x: x + spot.x, y: y + spot.y })) });
}

function blockOf(plan: Plan): Block {
  const block: Block = { parts: [], marks: [], joins: [], x: 0 };
  const { net } = plan;
  const waiting = new Set(
    net.pieces.filter((piece) => isTwoLead(piece) && piece.leads.every(({ node }) => net.role(node) !== 'signal')),
  );
  const on = (node: NodeName): readonly Piece[] =>
    [...waiting].filter(({ leads }) => leads.some((lead) => lead.node === node));
  while (waiting.size > 0) {
    const [first] = waiting;
    const ends = first?.leads.map(({ node }) => node).filter((node) => net.role(node) !== 'common') ?? [];
    follow(plan, block, waiting, net.rails.find((node) => on(node).length > 0) ?? ends[0] ?? '', null);
    block.x += 2 * step;
  }
  return block;
}

/** A node of the supply: its name above, what holds it to common below, and what leads on to the right. */
function follow(plan: Plan, block: Block, waiting: Set<Piece>, node: NodeName, from: Spot | null): void {
  const { net } = plan;
  const isBelow = net.role(node) === 'rail below';
  const spots: Spot[] = from === null ? [] : [from];
  const mine = (): readonly Piece[] => [...waiting].filter(({ leads }) => leads.some((lead) => lead.node === node));
  if (!isBelow) {
    const at = { x: block.x, y: 0 };
    block.marks.push({ kind: 'rail above', node, at });
    spots.push(at);
    block.x += step;
  }
  for (const piece of mine().filter((each) => net.role(beyond(each, node)) === 'common')) {
    waiting.delete(piece);
    const high = { x: block.x + (isBelow ? step : 0), y: 0 };
    const low = { ...high, y: span };
    const shape = plan.shape(piece, upright(piece, node, !isBelow));
    block.parts.push({ shape, x: high.x, y: shape.turn.quarters === 1 ? 0 : span });
    const common = isBelow ? { x: high.x - step, y: 0 } : low;
    block.marks.push({ kind: 'common', node: beyond(piece, node), at: common });
    block.joins.push({ node: beyond(piece, node), spots: [isBelow ? high : low, common] });
    if (isBelow) {
      block.marks.push({ kind: 'rail below', node, at: low });
      block.joins.push({ node, spots: [low] });
    } else spots.push(high);
    block.x = Math.ceil(high.x + Math.max(...shape.boxes.map(({ right }) => right))) + step;
  }
  const onwards = mine();
  for (const piece of onwards) waiting.delete(piece);
  for (const piece of onwards) {
    const shape = plan.shape(piece, lying(piece, node));
    const next = beyond(piece, node);
    block.parts.push({ shape, x: block.x + left(shape), y: 0 });
    spots.push({ x: block.x, y: 0 });
    const end = { x: block.x + span, y: 0 };
    block.x = end.x + step;
    follow(plan, block, waiting, next, end);
  }
  const [first] = spots;
  if (isBelow && first !== undefined) block.marks.push({ kind: 'rail below', node, at: first });
  if (first !== undefined) block.joins.push({ node, spots });
}
