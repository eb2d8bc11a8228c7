import type { NodeName } from '@curvewright/board';
import type { ChannelNet } from './channel-net.ts';
import { captions, textAt, type CaptionLine } from './captions.ts';
import type { Piece } from './piece.ts';
import { around, createRoom, moved, type Room } from './room.ts';
import type { Box, Lead, Mark, PlacedPart, Spot, Text, Turn } from './scene.ts';
import { symbolForm, turned, turnedBox } from './symbols.ts';

/** Spots of one node that wires have to join. */
export interface Join {
  readonly node: NodeName;
  readonly spots: readonly Spot[];
}

/** A part turned as it will stand, with its symbol's origin at 0, 0. */
export interface Shape {
  readonly piece: Piece;
  readonly turn: Turn;
  readonly leads: Readonly<Record<string, Spot>>;
  readonly body: Box;
  readonly texts: readonly Text[];
  /** Everything that it covers, its leads with it. */
  readonly boxes: readonly Box[];
}

/** A drawing that grows: parts find room beside those that stand already. */
export interface Plan {
  readonly net: ChannelNet;
  readonly room: Room;
  readonly placed: Map<string, PlacedPart>;
  readonly texts: Text[];
  readonly marks: Mark[];
  /** Marks that will stand at the height of the highest, with the lead each is wired to. */
  readonly aloft: { readonly node: NodeName; readonly from: Spot }[];
  /** What is wired beside the leads of each signal node. */
  readonly joins: Join[];
  /** Where a way up is kept free for a node. */
  readonly shafts: Map<NodeName, number>;
  shape(piece: Piece, turn: Turn): Shape;
  /** Puts it where it is told, or where the file wants it. */
  put(shape: Shape, x: number, y: number): PlacedPart;
  /** The first x from here to the right at which all boxes find room. */
  across(boxes: readonly Box[], x: number, y: number): number;
  leadSpot(ref: string, lead: string): Spot;
  spotsOf(node: NodeName): readonly Spot[];
  mark(kind: Mark['kind'], node: NodeName, at: Spot): void;
}

/** Furthest that is looked to the right; a drawing never comes near it. */
const furthest = 100_000;

export interface PlanRequest {
  readonly net: ChannelNet;
  /** Squares that stay free between parts side by side. */
  readonly air: number;
  readonly captionOf: (piece: Piece) => readonly CaptionLine[];
  /** Where the middle of a part's symbol is to stand, by designator. */
  readonly wanted: ReadonlyMap<string, Spot>;
}

export function createPlan({ net, air, captionOf, wanted }: PlanRequest): Plan {
  const room = createRoom(air);
  const placed = new Map<string, PlacedPart>();
  const texts: Text[] = [];
  const marks: Mark[] = [];

  const shape = (piece: Piece, turn: Turn): Shape => {
    const form = symbolForm(piece.kind, piece.positions, piece.setting);
    const leads = Object.fromEntries(Object.entries(form.leads).map(([lead, at]) => [lead, turned(at, turn)]));
    const body = turnedBox(form.body, turn);
    const lines = captions(piece.ref, piece.kind, turn, captionOf(piece));
    const spots = piece.leads.flatMap(({ lead }) => leads[lead] ?? []);
    const whole = around([body, ...spots.map(({ x, y }) => ({ left: x, right: x, top: y, bottom: y }))]);
    return { piece, turn, leads, body, texts: lines, boxes: [whole, ...lines.map(({ box }) => box)] };
  };

  const put = (given: Shape, x: number, y: number): PlacedPart => {
    const { piece, turn, leads, body } = given;
    const part: PlacedPart = {
      ...{ ref: piece.ref, kind: piece.kind, at: { x, y }, turn, body: moved(body, x, y) },
      leads: piece.leads.map(({ lead, node }): Lead => {
        const at = leads[lead] ?? { x: 0, y: 0 };
        return { lead, node, at: { x: x + at.x, y: y + at.y } };
      }),
    };
    placed.set(piece.ref, part);
    texts.push(...given.texts.map((text) => movedText(text, x, y)));
    room.take(given.boxes.map((box) => moved(box, x, y)));
    return part;
  };

  return {
    ...{ net, room, placed, texts, marks, aloft: [], joins: [], shafts: new Map<NodeName, number>(), shape },
    put: (given, x, y) => {
      const middle = wanted.get(given.piece.ref);
      if (middle === undefined) return put(given, x, y);
      const { body } = given;
      const [h, v] = [(body.left + body.right) / 2, (body.top + body.bottom) / 2];
      return put(given, Math.round(middle.x - h), Math.round(middle.y - v));
    },
    across: (boxes, x, y) => {
      for (let at = Math.ceil(x); at < furthest; at++) {
        if (room.fits(boxes.map((box) => moved(box, at, y)))) return at;
      }
      throw new RangeError('no room on the drawing');
    },
    leadSpot: (ref, lead) => {
      const found = placed.get(ref)?.leads.find((each) => each.lead === lead);
      if (found === undefined) throw new RangeError(`${ref} has no lead ${lead} on the drawing`);
      return found.at;
    },
    spotsOf: (node) =>
      [...placed.values()].flatMap(({ leads }) => leads.filter((lead) => lead.node === node).map(({ at }) => at)),
    mark: (kind, node, at) => {
      const { body, text } = markShape(kind, node, at);
      marks.push({ kind, node, at, body });
      if (text !== null) texts.push(text);
      room.take([body, ...(text === null ? [] : [text.box])]);
    },
  };
}

function movedText(text: Text, x: number, y: number): Text {
  return { ...text, at: { x: text.at.x + x, y: text.at.y + y }, box: moved(text.box, x, y) };
}

/** `out@left` as `out`. */
export function bareNode(node: NodeName): string {
  return node.split('@')[0] ?? node;
}

/** What a mark covers, and its name; common has none. */
export function markShape(
  kind: Mark['kind'],
  node: NodeName,
  at: Spot,
): { readonly body: Box; readonly text: Text | null } {
  const { x, y } = at;
  const named = (dx: number, dy: number, anchor: Text['anchor']): Text =>
    textAt(bareNode(node), { x: x + dx, y: y + dy }, anchor, 'node', node);
  switch (kind) {
    case 'common':
      return { body: { left: x - 1, right: x + 1, top: y + 0.2, bottom: y + 0.9 }, text: null };
    case 'rail above':
      return { body: { left: x - 1, right: x + 1, top: y - 0.9, bottom: y - 0.2 }, text: named(0, -1.2, 'middle') };
    case 'rail below':
      return { body: { left: x - 1, right: x + 1, top: y + 0.2, bottom: y + 0.9 }, text: named(0, 2, 'middle') };
    case 'input':
      return { body: { left: x - 0.8, right: x - 0.1, top: y - 0.4, bottom: y + 0.4 }, text: named(-1.1, 0.35, 'end') };
    case 'output':
      return { body: { left: x + 0.1, right: x + 0.8, top: y - 0.4, bottom: y + 0.4 }, text: named(1.1, 0.35, 'start') };
  }
}
