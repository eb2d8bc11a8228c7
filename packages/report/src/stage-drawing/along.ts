import type { NodeName } from '@curvewright/board';
import { walkStage } from './active-part.ts';
import { isTwoLead, joins } from './branches.ts';
import type { Piece } from './piece.ts';
import { movedLeads } from './plan.ts';
import { moved } from './room.ts';
import type { PathStep } from './signal-path.ts';
import { stacked } from './stacked.ts';
import { span } from './symbols.ts';
import { left, lying } from './turns.ts';
import type { Walk } from './walk.ts';

/** Places what leads to the next node on the way of the signal. */
export function walkThrough(
  walk: Walk,
  node: NodeName,
  { piece, enter, leave }: NonNullable<PathStep['through']>,
): void {
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
  const pile = stacked(
    [piece, ...beside].map((each) => plan.shape(each, lying(each, from))),
    -1,
  );
  const boxes = pile.flatMap(({ shape, y }) => shape.boxes.map((box) => moved(box, left(shape), y)));
  const leads = pile.flatMap(({ shape, y }) => movedLeads(shape.leads, left(shape), y));
  const x = plan.across(boxes, leads, walk.x, walk.y);
  const parts = pile.map(({ shape, y }) => plan.put(shape, x + left(shape), walk.y + y));
  const end = parts[0]?.leads.find(({ node }) => node === to)?.at ?? { x: x + span, y: walk.y };
  walk.x = end.x + 1;
  walk.y = end.y;
}
