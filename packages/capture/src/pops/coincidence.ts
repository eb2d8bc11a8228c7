import type { Pops } from './pop-detector.ts';

/** s between hits of two channels that are at the same time: a slow one's beginning is not known better. */
const sameTime = 0.01;

/** Hits of each channel that have one in the other channel, and the number that independent hits would have by chance. */
export function coincidences(
  a: Pick<Pops, 'hits' | 'seconds'>,
  b: Pick<Pops, 'hits' | 'seconds'>,
): { readonly both: readonly [ReadonlySet<number>, ReadonlySet<number>]; readonly byChance: number } {
  const [inA, inB] = [new Set<number>(), new Set<number>()];
  let [m, n] = [0, 0];
  while (m < a.hits.length && n < b.hits.length) {
    const later = b.hits[n]!.at - a.hits[m]!.at;
    if (Math.abs(later) <= sameTime) {
      inA.add(m++);
      inB.add(n++);
    } else if (later > 0) m++;
    else n++;
  }
  const seconds = Math.min(a.seconds, b.seconds);
  return { both: [inA, inB], byChance: seconds === 0 ? 0 : (a.hits.length * b.hits.length * 2 * sameTime) / seconds };
}
