import type { NodeName } from '@curvewright/board';
import type { Join } from './plan.ts';
import { createGrid, type Edge, type Grid } from './grid.ts';
import { around } from './room.ts';
import type { Box, Spot } from './scene.ts';

export interface Routed {
  readonly grid: Grid;
  readonly nets: readonly { readonly node: NodeName; readonly edges: readonly Edge[] }[];
  /** Joins that found no way. */
  readonly open: number;
}

/** Squares of free room around everything, for wires that go round it. */
const margin = 8;

/** How often every wire is taken up and laid again beside all others. */
const rounds = 3;

/**
 * Lays the wires of all joins on the corners of the squares, each with few bends and crossings: the shortest first, by the search
 * of C. Y. Lee, "An algorithm for path connections and its applications", IRE Trans. EC-10 (1961), with costs in the
 * place of lengths; then each again beside all others.
 */
export function route(joins: readonly Join[], obstacles: readonly Box[]): Routed {
  const spots = joins.flatMap((join) => join.spots.map(({ x, y }) => ({ left: x, right: x, top: y, bottom: y })));
  const extent = around([...obstacles, ...spots]);
  const grid = createGrid(extent, margin);
  for (const box of obstacles) grid.block(box);
  const nets = joins.map((join, id) => ({ id, node: join.node, points: [...new Set(join.spots.map(grid.indexOf))] }));
  for (const { id, points } of nets) for (const point of points) grid.hold(point, id);
  const order = nets.toSorted((a, b) => lengthOf(grid, a.points) - lengthOf(grid, b.points));
  const laid = new Map<number, readonly Edge[] | null>();
  for (let round = 0; round < rounds; round++) {
    for (const net of order) {
      const before = laid.get(net.id);
      if (before) grid.lift(net.id, net.points);
      laid.set(net.id, grid.lay(net.id, net.points));
    }
  }
  return {
    grid,
    nets: nets.map(({ id, node }) => ({ node, edges: laid.get(id) ?? [] })),
    open: [...laid.values()].filter((edges) => edges === null).length,
  };
}

function lengthOf(grid: Grid, points: readonly number[]): number {
  const spots: readonly Spot[] = points.map(grid.spotOf);
  if (spots.length === 0) return 0;
  const { left, right, top, bottom } = around(spots.map(({ x, y }) => ({ left: x, right: x, top: y, bottom: y })));
  return right - left + bottom - top;
}
