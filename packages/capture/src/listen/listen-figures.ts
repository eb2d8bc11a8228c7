import { decibels, leastSnrDb, type ListenPoint } from './corrected.ts';
import type { Reading } from './channel-response.ts';

/** Hz of the band in which deviation and balance are told: that of their limits. */
const [bandFrom, bandTo] = [30, 15_000];

/** The measured point that lies furthest off the curve; signed. */
export function worstOf(points: readonly ListenPoint[]): {
  readonly worstDeviationDb: number | null;
  readonly worstHz: number | null;
} {
  const [worst] = points
    .filter(({ hz, deviationDb }) => deviationDb !== null && hz >= bandFrom && hz <= bandTo)
    .toSorted((a, b) => Math.abs(b.deviationDb ?? 0) - Math.abs(a.deviationDb ?? 0));
  return { worstDeviationDb: worst?.deviationDb ?? null, worstHz: worst?.hz ?? null };
}

/** Largest level difference of two channels over the points that both have, dB; null where they have none. */
export function balanceOf(one: readonly Reading[], other: readonly Reading[]): number | null {
  const levels = new Map(one.filter(({ snrDb }) => isEnough(snrDb)).map(({ hz, ratio }) => [hz, decibels(ratio)]));
  const differences = other.flatMap(({ hz, ratio, snrDb }) => {
    const level = levels.get(hz);
    return level === undefined || !isEnough(snrDb) || hz < bandFrom || hz > bandTo
      ? []
      : Math.abs(decibels(ratio) - level);
  });
  return differences.length === 0 ? null : Math.max(...differences);
}

function isEnough(snrDb: number | null): boolean {
  return snrDb !== null && snrDb >= leastSnrDb;
}
