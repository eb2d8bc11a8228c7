import { isWorse, type Level } from '../judge.ts';

/** What a ranking looks at: first the level, then the least change from drawn, then the most margin, then the price. */
export interface Ranked {
  readonly level: Level;
  /** As shares of limits; NaN where nothing was computed. */
  readonly change: number;
  readonly margin: number;
  /** Null stands behind every price. */
  readonly price: number | null;
}

/** Changes and margins closer than this share of a limit are alike: less than any bench measures, and no reason to pay more. */
const step = 0.1;

export function byRank(a: Ranked, b: Ranked): number {
  if (a.level !== b.level) return isWorse(a.level, b.level) ? 1 : -1;
  return (
    inSteps(a.change, Infinity) - inSteps(b.change, Infinity) ||
    inSteps(b.margin, -Infinity) - inSteps(a.margin, -Infinity) ||
    (a.price ?? Infinity) - (b.price ?? Infinity) ||
    0
  );
}

/** Finite, so that two of them can be taken from each other. */
function inSteps(share: number, unknown: number): number {
  const steps = Math.round((Number.isNaN(share) ? unknown : share) / step);
  return Math.max(-1e9, Math.min(1e9, steps));
}
