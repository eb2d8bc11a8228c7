import type { Branches } from './branches.ts';
import type { Plan } from './plan.ts';

/** Squares between the end of a part and the next. */
export const step = 2;

/** How far the drawing has come along the way of the signal. */
export interface Walk {
  readonly plan: Plan;
  readonly branches: Branches;
  /** Where the next part may begin, and the height of the wire that leads there. */
  x: number;
  y: number;
}
