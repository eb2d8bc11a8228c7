import type { Box } from './scene.ts';

/** What is taken already: boxes side by side keep some air between them for wires, one above the other may touch. */
export interface Room {
  fits(boxes: readonly Box[]): boolean;
  take(boxes: readonly Box[]): void;
  /** A column of air above a box is kept free up to whatever the highest rail will be. */
  takeUpwards(box: Box): void;
  /** Columns taken upwards end here from now on. */
  closeSky(top: number): void;
}

/** Higher than any drawing. */
const sky = -10_000;

export function createRoom(air: number): Room {
  const taken: Box[] = [];
  const columns: Box[] = [];
  const touches = (a: Box, b: Box): boolean =>
    a.left < b.right + air && b.left < a.right + air && a.top < b.bottom && b.top < a.bottom;
  return {
    fits: (boxes) => boxes.every((box) => ![...taken, ...columns].some((other) => touches(box, other))),
    take: (boxes) => {
      taken.push(...boxes);
    },
    takeUpwards: (box) => {
      columns.push({ ...box, top: sky });
    },
    closeSky: (top) => {
      taken.push(...columns.splice(0).map((column) => ({ ...column, top })));
    },
  };
}

/** Whether two boxes come nearer to each other than so many squares. */
export function meet(a: Box, b: Box, apart: number): boolean {
  return a.left < b.right + apart && b.left < a.right + apart && a.top < b.bottom + apart && b.top < a.bottom + apart;
}

export function moved(box: Box, x: number, y: number): Box {
  return { left: box.left + x, right: box.right + x, top: box.top + y, bottom: box.bottom + y };
}

/** The smallest box around all; throws on none. */
export function around(boxes: readonly Box[]): Box {
  if (boxes.length === 0) throw new RangeError('no box to go around');
  return {
    left: Math.min(...boxes.map(({ left }) => left)),
    right: Math.max(...boxes.map(({ right }) => right)),
    top: Math.min(...boxes.map(({ top }) => top)),
    bottom: Math.max(...boxes.map(({ bottom }) => bottom)),
  };
}
