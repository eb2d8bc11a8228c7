import type { Routed } from './route.ts';
import type { Dot, Mark, PlacedPart, Spot, Wire } from './scene.ts';

/** What was laid, as straight wires between ends, bends and dots, with the dots and the places where wires cross. */
export function wiresOf(
  { grid, nets }: Routed,
  parts: readonly PlacedPart[],
  marks: readonly Mark[],
): { readonly wires: readonly Wire[]; readonly dots: readonly Dot[]; readonly crossings: readonly Spot[] } {
  const ends = new Map<number, number>();
  for (const { at } of [...parts.flatMap(({ leads }) => leads), ...marks])
    ends.set(grid.indexOf(at), (ends.get(grid.indexOf(at)) ?? 0) + 1);
  const wires: Wire[] = [];
  const dots: Dot[] = [];
  const owners = new Map<number, number>();
  const crossings: Spot[] = [];
  nets.forEach(({ node, edges }, n) => {
    const near = new Map<number, Set<number>>();
    const link = (a: number, b: number): void => {
      near.set(a, (near.get(a) ?? new Set<number>()).add(b));
    };
    for (const [a, b] of edges) {
      link(a, b);
      link(b, a);
    }
    const isStraight = (p: number): boolean => {
      const [a, b, ...more] = [...(near.get(p) ?? [])];
      return a !== undefined && b !== undefined && more.length === 0 && a + b === 2 * p && !ends.has(p);
    };
    for (const [p, others] of near) {
      const other = owners.get(p);
      if (other !== undefined && other !== n) crossings.push(grid.spotOf(p));
      owners.set(p, n);
      if (others.size + (ends.get(p) ?? 0) > 2) dots.push({ node, at: grid.spotOf(p) });
      if (isStraight(p)) continue;
      for (const first of others) {
        let [before, at] = [p, first];
        while (isStraight(at)) [before, at] = [at, 2 * at - before];
        // Each wire is met from both of its ends.
        if (p < at) wires.push({ node, from: grid.spotOf(p), to: grid.spotOf(at) });
      }
    }
  });
  return { wires, dots, crossings };
}
