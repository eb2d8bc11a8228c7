import type { Scene } from '../../src/index.ts';

type Box = Scene['parts'][number]['body'];
type Spot = Scene['crossings'][number];
type Segment = Pick<Scene['wires'][number], 'from' | 'to'>;

/**
 * The nodes that the picture alone shows, as sets of `ref.lead`, told by geometry: wires join where an end lies on another's end or, under a
 * dot, on its middle; leads and marks join what ends at them; marks of one name are one node.
 */
export function netsOf({ parts, marks, wires, dots }: Scene): readonly (readonly string[])[] {
  const groups = new Map<string, string>();
  const find = (name: string): string => {
    const up = groups.get(name) ?? name;
    return up === name ? name : find(up);
  };
  const join = (a: string, b: string): void => {
    groups.set(find(a), find(b));
  };
  const spot = ({ x, y }: Spot): string => `at ${x} ${y}`;
  for (const { from, to } of wires) join(spot(from), spot(to));
  for (const dot of dots) {
    for (const wire of wires) if (isOn(dot.at, wire)) join(spot(dot.at), spot(wire.from));
  }
  for (const { ref, leads } of parts) for (const { lead, at } of leads) join(`${ref}.${lead}`, spot(at));
  for (const { kind, node, at } of marks) {
    join(
      kind === 'input' || kind === 'output' ? `${kind} terminal` : `mark ${kind === 'common' ? 'common' : node}`,
      spot(at),
    );
  }
  const nets = new Map<string, string[]>();
  const names = [
    ...parts.flatMap(({ ref, leads }) => leads.map(({ lead }) => `${ref}.${lead}`)),
    ...marks.flatMap(({ kind }) => (kind === 'input' || kind === 'output' ? [`${kind} terminal`] : [])),
  ];
  for (const name of new Set(names)) nets.set(find(name), [...(nets.get(find(name)) ?? []), name]);
  return [...nets.values()].map((net) => net.toSorted()).toSorted((a, b) => (a[0]! < b[0]! ? -1 : 1));
}

/** The same sets as the board has them; `node` gives each lead's node as the drawn circuit names it. */
export function netsOfNodes(
  leads: readonly { readonly name: string; readonly node: string }[],
): readonly (readonly string[])[] {
  const nets = new Map<string, string[]>();
  for (const { name, node } of leads) nets.set(node, [...(nets.get(node) ?? []), name]);
  return [...nets.values()].map((net) => net.toSorted()).toSorted((a, b) => (a[0]! < b[0]! ? -1 : 1));
}

function isOn({ x, y }: Spot, { from, to }: Segment): boolean {
  return (
    (from.x === to.x && x === from.x && y >= Math.min(from.y, to.y) && y <= Math.max(from.y, to.y)) ||
    (from.y === to.y && y === from.y && x >= Math.min(from.x, to.x) && x <= Math.max(from.x, to.x))
  );
}

function overlaps(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

function boxOf({ from, to }: Segment): Box {
  return {
    left: Math.min(from.x, to.x),
    right: Math.max(from.x, to.x),
    top: Math.min(from.y, to.y),
    bottom: Math.max(from.y, to.y),
  };
}

/** A line or a dot counts as so wide on either side, in squares: a wire's and half a dot's stroke. */
const stroke = 0.08;

function widened({ left, right, top, bottom }: Box, by: number): Box {
  return { left: left - by, right: right + by, top: top - by, bottom: bottom + by };
}

/** Everything that makes a drawing hard to read, in words; empty for a legible one. */
export function blemishes({ parts, marks, wires, dots, texts, crossings }: Scene): readonly string[] {
  const found: string[] = [];
  const solid = [
    ...parts.map(({ ref, body }) => ({ name: ref, body })),
    ...marks.map(({ kind, node, body }) => ({ name: `${kind} ${node}`, body })),
  ];
  const leads = parts.flatMap(({ ref, leads: all, body }) =>
    all.map(({ at }) => ({
      name: `a lead of ${ref}`,
      from: at,
      to: {
        x: Math.min(Math.max(at.x, body.left), body.right),
        y: Math.min(Math.max(at.y, body.top), body.bottom),
      },
    })),
  );
  const lines = [...wires.map((wire) => ({ ...wire, name: `a wire of ${wire.node}` })), ...leads];
  wires.forEach(({ from, to }) => {
    if (from.x !== to.x && from.y !== to.y) found.push(`a wire is slanted at ${from.x} ${from.y}`);
  });
  for (const { name, body } of solid) {
    for (const line of lines) {
      if (line.name !== `a lead of ${name}` && overlaps(widened(boxOf(line), stroke), body))
        found.push(`${line.name} runs through ${name}`);
    }
  }
  solid.forEach((one, n) => {
    for (const other of solid.slice(n + 1))
      if (overlaps(one.body, other.body)) found.push(`${one.name} lies on ${other.name}`);
  });
  texts.forEach((text, n) => {
    for (const other of texts.slice(n + 1))
      if (overlaps(text.box, other.box)) found.push(`${text.text} lies on ${other.text}`);
    for (const { name, body } of solid) if (overlaps(text.box, body)) found.push(`${text.text} lies on ${name}`);
    for (const line of lines)
      if (overlaps(widened(boxOf(line), stroke), text.box)) found.push(`${text.text} lies on ${line.name}`);
    for (const { at } of dots) {
      if (overlaps(widened({ left: at.x, right: at.x, top: at.y, bottom: at.y }, 0.25), text.box))
        found.push(`${text.text} lies on a dot`);
    }
  });
  found.push(...wrongMeetings(wires, dots, crossings));
  found.push(...wrongDots({ parts, marks, wires, dots }));
  return found;
}

/** Wires of different nodes only cross, straight through and where it is counted; wires of one node meet at ends, with a dot where three or more do. */
function wrongMeetings(wires: Scene['wires'], dots: Scene['dots'], crossings: Scene['crossings']): readonly string[] {
  const found: string[] = [];
  const isEnd = (at: Spot, { from, to }: Segment): boolean => [from, to].some(({ x, y }) => x === at.x && y === at.y);
  wires.forEach((one, n) => {
    for (const other of wires.slice(n + 1)) {
      const [a, b] = [boxOf(one), boxOf(other)];
      const at = { x: Math.max(a.left, b.left), y: Math.max(a.top, b.top) };
      if (!isOn(at, one) || !isOn(at, other)) continue;
      const where = `at ${at.x} ${at.y}`;
      const alike = (one.from.x === one.to.x) === (other.from.x === other.to.x);
      const end = { x: Math.min(a.right, b.right), y: Math.min(a.bottom, b.bottom) };
      if (alike && (end.x !== at.x || end.y !== at.y)) found.push(`two wires lie on each other ${where}`);
      else if (one.node === other.node) {
        if (!isEnd(at, one) || !isEnd(at, other)) found.push(`wires of ${one.node} meet in the middle ${where}`);
      } else if (isEnd(at, one) || isEnd(at, other)) found.push(`${one.node} ends on ${other.node} ${where}`);
      else if (!crossings.some(({ x, y }) => x === at.x && y === at.y))
        found.push(`a crossing ${where} is not counted`);
      else if (dots.some((dot) => dot.at.x === at.x && dot.at.y === at.y)) found.push(`a dot on a crossing ${where}`);
    }
  });
  return found;
}

/** A dot stands wherever three or more ways of a node meet, and nowhere else. */
function wrongDots({
  parts,
  marks,
  wires,
  dots,
}: Pick<Scene, 'parts' | 'marks' | 'wires' | 'dots'>): readonly string[] {
  const ways = new Map<string, number>();
  const ends = [
    ...wires.flatMap(({ from, to }) => [from, to]),
    ...[...parts.flatMap(({ leads }) => leads), ...marks].map(({ at }) => at),
  ];
  for (const { x, y } of ends) ways.set(`${x} ${y}`, (ways.get(`${x} ${y}`) ?? 0) + 1);
  const dotted = new Set(dots.map(({ at: { x, y } }) => `${x} ${y}`));
  return [
    ...[...ways].flatMap(([spot, count]) => (count > 2 && !dotted.has(spot) ? [`no dot at ${spot}`] : [])),
    ...[...dotted].flatMap((spot) => ((ways.get(spot) ?? 0) > 2 ? [] : [`a dot for nothing at ${spot}`])),
  ];
}
