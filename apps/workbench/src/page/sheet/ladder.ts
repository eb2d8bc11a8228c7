import type { Rung, SheetField } from '../../contract/compute.ts';

/** The preferred value next to what is shown; null where there is none. Of a value not on the ladder, the file's own neighbours. */
export function ladderStep({ ladder, lower, higher }: SheetField, shown: string, by: -1 | 1): string | null {
  const at = ladder?.findIndex(({ written }) => written === shown) ?? -1;
  if (ladder !== null && at >= 0) return ladder[at + by]?.written ?? null;
  return by < 0 ? lower : higher;
}

/** The rung nearest to a value, by ratio. */
export function nearestRung(ladder: readonly Rung[], value: number): number {
  const distance = ({ value: rung }: Rung): number => Math.abs(Math.log(rung / value));
  return ladder.reduce((best, rung, n) => {
    const standing = ladder[best];
    return standing !== undefined && distance(rung) < distance(standing) ? n : best;
  }, 0);
}
