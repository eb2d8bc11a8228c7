import type { NodeName } from '@curvewright/board';
import { textAt } from './captions.ts';
import { meet } from './room.ts';
import type { Box, Dot, Mark, PlacedPart, Spot, Text, Wire } from './scene.ts';

/** What is written at a node. */
export interface Label {
  readonly node: NodeName;
  readonly text: string;
  readonly what: 'node' | 'volts';
}

/** What a label may not lie on. */
export interface Drawn {
  readonly parts: readonly PlacedPart[];
  readonly marks: readonly Mark[];
  readonly wires: readonly Wire[];
  readonly dots: readonly Dot[];
  readonly texts: readonly Text[];
}

/** Squares between a text and a wire, and between two texts. */
const fromWire = 0.1;
const fromText = 0.25;

/** In squares of distance: below a wire, and beside one. */
const below = 1;
const beside = 2;

/** Side of the area around a node that is searched when there is no room at its wires. */
const furthest = 60;

/** Writes every label beside a wire or a lead of its node, where nothing else is. */
export function placeLabels(drawn: Drawn, labels: readonly Label[]): readonly Text[] {
  const solid = [...drawn.parts, ...drawn.marks].map(({ body }) => body);
  const lines = [...drawn.wires.map(boxOfWire), ...drawn.parts.flatMap(leadLines), ...drawn.dots.map(boxOfDot)];
  const written: Text[] = [];
  for (const { node, text, what } of labels) {
    const isFree = ({ box }: Text): boolean =>
      !solid.some((other) => meet(box, other, 0)) &&
      !lines.some((other) => meet(box, other, fromWire)) &&
      ![...drawn.texts, ...written].some((other) => meet(box, other.box, fromText));
    const put = (places: readonly Candidate[]): boolean => {
      const found = places.map(({ at, anchor }) => textAt(text, at, anchor, what, node)).find(isFree);
      if (found !== undefined) written.push(found);
      return found !== undefined;
    };
    const home = homeOf(drawn, node);
    if (!put(besideWires(drawn, node, home))) put(around(home));
  }
  return written;
}

interface Candidate {
  readonly at: Spot;
  readonly anchor: Text['anchor'];
  /** Less is better: squares from where the node is looked for, and more below or beside a wire than above one. */
  readonly cost: number;
}

/** Places at a node's own wires, the best first. */
function besideWires(drawn: Drawn, node: NodeName, home: Spot): readonly Candidate[] {
  const away = ({ x, y }: Spot): number => Math.hypot(x - home.x, y - home.y);
  const own = drawn.wires.filter((wire) => wire.node === node);
  const lying = own.filter(({ from, to }) => from.y === to.y).flatMap(pointsOf);
  const upright = own.filter(({ from, to }) => from.x === to.x).flatMap(pointsOf);
  const found: readonly Candidate[] = [
    ...lying.flatMap((spot): readonly Candidate[] => [
      { at: { x: spot.x + 0.3, y: spot.y - 0.4 }, anchor: 'start', cost: away(spot) },
      { at: { x: spot.x - 0.3, y: spot.y - 0.4 }, anchor: 'end', cost: away(spot) + 0.5 },
      { at: { x: spot.x + 0.3, y: spot.y + 1.1 }, anchor: 'start', cost: away(spot) + below },
      { at: { x: spot.x - 0.3, y: spot.y + 1.1 }, anchor: 'end', cost: away(spot) + below + 0.5 },
    ]),
    ...[...upright, home].flatMap((spot): readonly Candidate[] => [
      { at: { x: spot.x + 0.4, y: spot.y + 0.35 }, anchor: 'start', cost: away(spot) + beside },
      { at: { x: spot.x - 0.4, y: spot.y + 0.35 }, anchor: 'end', cost: away(spot) + beside + 0.5 },
    ]),
  ];
  return found.toSorted((a, b) => a.cost - b.cost);
}

/** Places anywhere, the nearest first: the label's text names the node. */
function around(home: Spot): readonly Candidate[] {
  const places = Array.from({ length: furthest * furthest }, (_, n): Candidate => {
    const [dx, dy] = [(n % furthest) - furthest / 2, Math.floor(n / furthest) - furthest / 2];
    return { at: { x: home.x + dx, y: home.y + dy }, anchor: 'middle', cost: Math.hypot(dx, dy) };
  });
  return places.toSorted((a, b) => a.cost - b.cost);
}

/** Where a technician looks for a node: at an active part's lead, else where its first part stands; a supply at its own parts. */
function homeOf({ parts, marks }: Drawn, node: NodeName): Spot {
  const mark = marks.findLast((each) => each.node === node);
  const leads = parts.flatMap((part) =>
    part.leads.filter((lead) => lead.node === node).map((lead) => ({ ...lead, part })),
  );
  const active = leads.find(({ part }) => part.leads.length > 2);
  const isSupply = mark !== undefined && mark.kind !== 'input' && mark.kind !== 'output';
  return (isSupply ? mark : (active ?? leads[0] ?? mark))?.at ?? { x: 0, y: 0 };
}

/** Every half square. */
function pointsOf({ from, to }: Wire): readonly Spot[] {
  const length = Math.abs(to.x - from.x) + Math.abs(to.y - from.y);
  return Array.from({ length: 2 * length + 1 }, (_, n) => ({
    x: from.x + ((to.x - from.x) * n) / (2 * length),
    y: from.y + ((to.y - from.y) * n) / (2 * length),
  }));
}

function boxOfWire({ from, to }: Wire): Box {
  return {
    left: Math.min(from.x, to.x),
    right: Math.max(from.x, to.x),
    top: Math.min(from.y, to.y),
    bottom: Math.max(from.y, to.y),
  };
}

function boxOfDot({ at: { x, y } }: Dot): Box {
  return { left: x - 0.25, right: x + 0.25, top: y - 0.25, bottom: y + 0.25 };
}

/** The piece of each lead between its end and the body. */
function leadLines({ leads, body }: PlacedPart): readonly Box[] {
  return leads.map(({ at: { x, y } }) => {
    const near = { x: Math.min(Math.max(x, body.left), body.right), y: Math.min(Math.max(y, body.top), body.bottom) };
    return boxOfWire({ from: { x, y }, to: near, node: '' });
  });
}
