import type { DrawnPart } from '../../contract/views.ts';

export type Direction = 'ArrowLeft' | 'ArrowRight' | 'ArrowUp' | 'ArrowDown';

const steps: Readonly<Record<Direction, readonly [x: number, y: number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** How much a square beside the way counts against one along it. */
const aside = 2;

export function directionOf(key: string): Direction | null {
  return key in steps ? (key as Direction) : null;
}

/** The part that an arrow key leads to from this one; null at the edge. */
export function nearestPart(parts: readonly DrawnPart[], ref: string, direction: Direction): string | null {
  const from = parts.find((part) => part.ref === ref);
  if (from === undefined) return null;
  const [dx, dy] = steps[direction];
  const reached = parts.flatMap((part) => {
    const [x, y] = [part.x - from.x, part.y - from.y];
    const [along, off] = [x * dx + y * dy, Math.abs(x * dy) + Math.abs(y * dx)];
    return along > 0 ? [{ ref: part.ref, cost: along + aside * off }] : [];
  });
  return reached.toSorted((a, b) => a.cost - b.cost)[0]?.ref ?? null;
}
