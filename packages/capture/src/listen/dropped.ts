import { recordedAt, type Laid } from './stretches.ts';
import type { Trouble } from './problem.ts';

/** Something of the plan that was heard, when it should have been and how much later it was. */
export interface Anchor {
  /** s in the plan. */
  readonly at: number;
  readonly late: number;
  readonly within: number;
}

/** s: shorter than any buffer of a sound card, longer than a clock wanders within a recording. */
const shortest = 0.5e-3;

/**
 * Where the time between neighbouring anchors differs from what it is between most of them: a buffer was lost (or played twice) there. What `jumpIn`
 * finds between two moments of the recording tells when.
 */
export function droppedBuffers(
  laid: Laid,
  anchors: readonly Anchor[],
  jumpIn: (from: number, to: number) => number | null,
): readonly Trouble[] {
  const gaps = anchors.slice(1).map((to, n) => ({ from: anchors[n]!, to }));
  const rates = gaps.map(({ from, to }) => (to.late - from.late) / (to.at - from.at)).toSorted((a, b) => a - b);
  const usual = rates[Math.floor(rates.length / 2)] ?? 0;
  return gaps.flatMap(({ from, to }): Trouble[] => {
    const moved = to.late - from.late - usual * (to.at - from.at);
    if (Math.abs(moved) < Math.max(shortest, from.within + to.within)) return [];
    const [fromS, toS] = [recordedAt(laid, from.at), recordedAt(laid, to.at)];
    const jump = jumpIn(fromS, toS);
    return [
      {
        code: 'dropped',
        channel: null,
        fromS: jump ?? fromS,
        toS: jump ?? toS,
        message: `${(1000 * Math.abs(moved)).toFixed(1)} ms of the recording ${moved < 0 ? 'are missing' : 'are there twice or were not played'} here: a buffer was dropped; close other programs, take a larger buffer, and record again`,
      },
    ];
  });
}
