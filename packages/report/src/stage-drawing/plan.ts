import type { NodeName } from '@curvewright/board';
import type { ChannelNet } from './channel-net.ts';
import { captions, type CaptionLine } from './captions.ts';
import { markBoxes, markShape } from './marks.ts';
import type { Piece } from './piece.ts';
import { around, createRoom, meet, moved, type Room } from './room.ts';
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
  readonly leads: readonly Lead[];
  readonly body: Box;
  readonly texts: readonly Text[];
  /** Everything that it covers, its leads with it. */
  readonly boxes: readonly Box[];
}

/** A drawing that grows: parts find room beside those that stand already. */
export interface Plan {
  readonly net: ChannelNet;
  readonly room: Room;
  readonly nodeRoom: number;
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
  /** Whether boxes find room at a spot, and leads there keep clear of those of other nodes. */
  fits(boxes: readonly Box[], leads: readonly Lead[], x: number, y: number): boolean;
  /** The first x from here to the right at which all fits. */
  across(boxes: readonly Box[], leads: readonly Lead[], x: number, y: number): number;
  /** The nearest spot at which all boxes find room. */
  near(boxes: readonly Box[], from: Spot): Spot;
  leadSpot(ref: string, lead: string): Spot;
  spotsOf(node: NodeName): readonly Spot[];
  mark(kind: Mark['kind'], node: NodeName, at: Spot): void;
}

/** A spot that has to stay free for the end of a wire. */
const ownSpot: Box = { left: -0.5, right: 0.5, top: -0.5, bottom: 0.5 };

/** Furthest that is looked to the right; a drawing never comes near it. */
const furthest = 100_000;

export interface PlanRequest {
  readonly net: ChannelNet;
  /** Squares that stay free between parts side by side. */
  readonly air: number;
  /** Squares for what is written at a node between two parts of a row. */
  readonly nodeRoom: number;
  readonly captionOf: (piece: Piece, turn: Turn) => readonly CaptionLine[];
  /** Where the middle of a part's symbol is to stand, by designator. */
  readonly wanted: ReadonlyMap<string, Spot>;
}

export function createPlan({ net, air, nodeRoom, captionOf, wanted }: PlanRequest): Plan {
  const room = createRoom(air);
  const placed = new Map<string, PlacedPart>();
  const texts: Text[] = [];
  const marks: Mark[] = [];

  const shape = (piece: Piece, turn: Turn): Shape => {
    const form = symbolForm(piece.kind, piece.positions, piece.setting);
    const leads = piece.leads.map(({ lead, node }) => ({
      lead,
      node,
      at: turned(form.leads[lead] ?? { x: 0, y: 0 }, turn),
    }));
    const body = turnedBox(form.body, turn);
    const lines = captions(piece.ref, piece.kind, turn, captionOf(piece, turn));
    const ends = leads.map(({ at: { x, y } }) => ({ left: x, right: x, top: y, bottom: y }));
    const whole = around([body, ...ends]);
    return { piece, turn, leads, body, texts: lines, boxes: [whole, ...lines.map(({ box }) => box)] };
  };

  const put = (given: Shape, x: number, y: number): PlacedPart => {
    const { piece, turn, leads, body } = given;
    const part: PlacedPart = {
      ...{ ref: piece.ref, kind: piece.kind, setting: piece.setting, at: { x, y }, turn, body: moved(body, x, y) },
      leads: movedLeads(leads, x, y),
    };
    placed.set(piece.ref, part);
    texts.push(...given.texts.map((text) => movedText(text, x, y)));
    room.take(given.boxes.map((box) => moved(box, x, y)));
    return part;
  };

  const fits = (boxes: readonly Box[], leads: readonly Lead[], x: number, y: number): boolean =>
    room.fits(boxes.map((box) => moved(box, x, y))) &&
    leads.every(({ node, at }) => {
      const isNear = (other: Spot): boolean => Math.abs(other.x - at.x - x) <= 1 && Math.abs(other.y - at.y - y) <= 1;
      const others = [...[...placed.values()].flatMap((part) => part.leads), ...marks];
      return !others.some((other) => other.node !== node && isNear(other.at));
    });

  return {
    ...{ net, room, nodeRoom, placed, texts, marks, aloft: [], joins: [], shafts: new Map<NodeName, number>(), shape },
    put: (given, x, y) => {
      const middle = wanted.get(given.piece.ref);
      if (middle === undefined) return put(given, x, y);
      const { body } = given;
      const [h, v] = [(body.left + body.right) / 2, (body.top + body.bottom) / 2];
      return put(given, Math.round(middle.x - h), Math.round(middle.y - v));
    },
    fits,
    across: (boxes, leads, x, y) => {
      for (let at = Math.ceil(x); at < furthest; at++) if (fits(boxes, leads, at, y)) return at;
      throw new RangeError('no room on the drawing');
    },
    near: (boxes, from) => {
      for (let reach = 0; reach < furthest; reach++) {
        // Right at the lead it stands on its own part's edge; anywhere else a wire leads from there to it.
        const all = reach === 0 ? boxes : [...boxes, ownSpot];
        const start = moved(ownSpot, from.x, from.y);
        const ring = ringAround(from, reach).find(({ x, y }) => {
          const there = all.map((box) => moved(box, x, y));
          return room.fits(there) && (reach === 0 || !there.some((box) => meet(box, start, 0)));
        });
        if (ring !== undefined) return ring;
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
      room.take(markBoxes(kind, node).map((box) => moved(box, at.x, at.y)));
    },
  };
}

/** Spots so many squares away along one axis and no more along the other: to the right and below first. */
function ringAround({ x, y }: Spot, reach: number): readonly Spot[] {
  if (reach === 0) return [{ x, y }];
  const steps = Array.from({ length: 2 * reach + 1 }, (_, n) => n - reach).toSorted(
    (a, b) => Math.abs(a) - Math.abs(b),
  );
  return [
    ...steps.map((step) => ({ x: x + reach, y: y + step })),
    ...steps.map((step) => ({ x: x + step, y: y + reach })),
    ...steps.map((step) => ({ x: x - reach, y: y + step })),
    ...steps.map((step) => ({ x: x + step, y: y - reach })),
  ];
}

export function movedLeads(leads: readonly Lead[], x: number, y: number): readonly Lead[] {
  return leads.map(({ lead, node, at }) => ({ lead, node, at: { x: at.x + x, y: at.y + y } }));
}

/** Where a lead of a shape ends. */
export function leadOf({ leads }: Shape, name: string): Spot {
  return leads.find(({ lead }) => lead === name)?.at ?? { x: 0, y: 0 };
}

function movedText(text: Text, x: number, y: number): Text {
  return { ...text, at: { x: text.at.x + x, y: text.at.y + y }, box: moved(text.box, x, y) };
}
