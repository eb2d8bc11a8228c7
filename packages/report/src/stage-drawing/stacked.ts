import type { Shape } from './plan.ts';
import { around } from './room.ts';

/** Parts side by side: the first at height 0, each next one further up (−1) or down (1), clear of what is written at the one before. */
export function stacked(
  shapes: readonly Shape[],
  way: 1 | -1,
): readonly { readonly shape: Shape; readonly y: number }[] {
  const heights = shapes.map(({ boxes }) => around(boxes)).map(({ top, bottom }) => bottom - top);
  const step = Math.ceil(Math.max(...heights) + 0.4);
  return shapes.map((shape, n) => ({ shape, y: n === 0 ? 0 : way * step * n }));
}
