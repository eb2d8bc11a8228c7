import type { Box, Spot } from './scene.ts';

/** A unit step of a wire on the grid, by the indices of its ends. */
export type Edge = readonly [from: number, to: number];

/** The corners of the squares, and which wire goes through each along x and along y. */
export interface Grid {
  readonly indexOf: (spot: Spot) => number;
  readonly spotOf: (index: number) => Spot;
  /** No wire goes through what lies in the box. */
  block(box: Box): void;
  /** The point belongs to this wire, whatever goes on around it. */
  hold(point: number, net: number): void;
  /** Joins the points; null where there is no way. */
  lay(net: number, points: readonly number[]): readonly Edge[] | null;
  /** Takes a wire up again, but for the points it holds. */
  lift(net: number, points: readonly number[]): void;
}

const free = -1;
const blocked = -2;

/** In steps of a square: a bend, a crossing, a step beside another wire or beside a part. */
const bendCost = 6;
const crossingCost = 14;
const besideWire = 2;
const besidePart = 1;

/** Right, down, left, up. */
const directions = [0, 1, 2, 3] as const;

export function createGrid(extent: Box, margin: number): Grid {
  const left = Math.floor(extent.left) - margin;
  const top = Math.floor(extent.top) - margin;
  const width = Math.ceil(extent.right) + margin - left + 1;
  const height = Math.ceil(extent.bottom) + margin - top + 1;
  const size = width * height;
  const along = { x: new Int32Array(size).fill(free), y: new Int32Array(size).fill(free) };
  const besides = new Uint8Array(size);
  const moves = [1, width, -1, -width];
  const best = new Int32Array(4 * size);
  const came = new Int32Array(4 * size);

  const get = (values: ArrayLike<number>, n: number): number => values[n] ?? 0;
  const isEdge = (p: number): boolean => p % width === 0 || p % width === width - 1 || p < width || p >= size - width;

  const block = (box: Box): void => {
    for (let y = Math.ceil(box.top); y <= Math.floor(box.bottom); y++) {
      for (let x = Math.ceil(box.left); x <= Math.floor(box.right); x++) {
        const p = x - left + (y - top) * width;
        along.x[p] = along.y[p] = blocked;
        for (const move of moves) besides[p + move] = 1;
      }
    }
  };

  /** What the step from a point to its neighbour costs; Infinity where it may not be taken. */
  const stepCost = (net: number, to: number, direction: number): number => {
    if (isEdge(to)) return Infinity;
    const isAcross = direction % 2 === 0;
    const [own, other] = isAcross ? [get(along.x, to), get(along.y, to)] : [get(along.y, to), get(along.x, to)];
    if (own !== free && own !== net) return Infinity;
    if (other === blocked) return Infinity;
    let cost = 1 + (get(besides, to) > 0 ? besidePart : 0);
    if (other !== free && other !== net) cost += crossingCost;
    const [one, two] = isAcross ? [to - width, to + width] : [to - 1, to + 1];
    const beside = isAcross ? along.x : along.y;
    for (const near of [one, two]) {
      const there = get(beside, near);
      if (there >= 0 && there !== net) cost += besideWire;
    }
    return cost;
  };

  /** Whether a wire of the net may turn, begin or end at the point. */
  const isOwnOrFree = (net: number, p: number): boolean =>
    (get(along.x, p) === free || get(along.x, p) === net) && (get(along.y, p) === free || get(along.y, p) === net);

  /** The cheapest way from any of the points to any of the targets, as states from end to start. */
  const search = (net: number, from: ReadonlySet<number>, targets: ReadonlySet<number>): readonly number[] | null => {
    best.fill(0x7fffffff);
    const queue: number[][] = [];
    const push = (state: number, cost: number, before: number): void => {
      if (cost >= get(best, state)) return;
      best[state] = cost;
      came[state] = before;
      (queue[cost] ??= []).push(state);
    };
    for (const p of from) {
      if (!isOwnOrFree(net, p)) continue;
      for (const d of directions) {
        const to = p + (moves[d] ?? 0);
        const cost = stepCost(net, to, d);
        if (cost < Infinity) push(4 * to + d, cost, -1 - p);
      }
    }
    for (let cost = 0; cost < queue.length; cost++) {
      for (const state of queue[cost] ?? []) {
        if (get(best, state) !== cost) continue;
        const p = state >> 2;
        const d = state & 3;
        const mayTurn = isOwnOrFree(net, p);
        if (mayTurn && targets.has(p)) return traced(state);
        for (const next of directions) {
          if ((next + 2) % 4 === d || (next !== d && !mayTurn)) continue;
          const to = p + (moves[next] ?? 0);
          const step = stepCost(net, to, next);
          if (step < Infinity) push(4 * to + next, cost + step + (next === d ? 0 : bendCost), state);
        }
      }
    }
    return null;
  };

  const traced = (end: number): readonly number[] => {
    const points = [end >> 2];
    let state = end;
    for (;;) {
      const before = get(came, state);
      if (before < 0) return [...points, -1 - before];
      points.push(before >> 2);
      state = before;
    }
  };

  const take = (net: number, way: readonly number[]): void => {
    way.forEach((p, n) => {
      const steps = [way[n - 1], way[n + 1]].flatMap((q) => (q === undefined ? [] : [Math.abs(q - p)]));
      const ends = steps.length < 2;
      if (ends || steps.includes(1)) along.x[p] = net;
      if (ends || steps.includes(width)) along.y[p] = net;
    });
  };

  return {
    indexOf: ({ x, y }) => x - left + (y - top) * width,
    spotOf: (index) => ({ x: (index % width) + left, y: Math.floor(index / width) + top }),
    block,
    hold: (point, net) => {
      along.x[point] = along.y[point] = net;
    },
    lay: (net, points) => {
      const [first] = points;
      if (first === undefined) return [];
      const tree = new Set([first]);
      const open = new Set(points.slice(1));
      const edges: Edge[] = [];
      while (open.size > 0) {
        const way = search(net, tree, open);
        if (way === null) return null;
        take(net, way);
        way.forEach((p, n) => {
          tree.add(p);
          open.delete(p);
          const next = way[n + 1];
          if (next !== undefined) edges.push([p, next]);
        });
      }
      return edges;
    },
    lift: (net, points) => {
      for (let p = 0; p < size; p++) {
        if (along.x[p] === net) along.x[p] = free;
        if (along.y[p] === net) along.y[p] = free;
      }
      for (const p of points) along.x[p] = along.y[p] = net;
    },
  };
}
