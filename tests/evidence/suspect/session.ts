import { outlook } from '../../../packages/verify/src/suspect/next/outlook.ts';
import { readingBits } from '../../../packages/verify/src/suspect/next/information.ts';
import { usualMinutes } from '../../../packages/verify/src/suspect/next/cautions.ts';
import { beliefs, sharesOf } from '../../../packages/verify/src/suspect/posterior.ts';
import { weigher } from '../../../packages/verify/src/suspect/weigh.ts';
import type { BenchBoard } from './bench-board.ts';
import { partShares, tiedWith } from './verdict.ts';

export interface Session {
  /** Readings until the suspect, or a tie of at most three, was above 95 %; all of them where it never was. */
  readonly count: number;
  readonly minutes: number;
  readonly sure: boolean;
  readonly right: boolean;
}

const sure = 0.95;

/** Measures one thing after another on a board that shows `values`, in the order of what is worth most a minute, or in that of the chart. */
export function session(board: BenchBoard, values: Float64Array, ref: string, guided: boolean): Session {
  const { catalogue, readings, spots } = board;
  const done: number[] = [];
  let minutes = 0;
  for (;;) {
    const design = designOf(board, done);
    const read = Float64Array.from(done, (n) => values[n]!);
    const own = weigher(catalogue, design.readings, design.shared);
    const believed = beliefs(catalogue, own, read);
    const shares = sharesOf(believed);
    const [leader = ['', 0] as const] = partShares(catalogue, shares);
    const group = leader[1] > 0.2 ? tiedWith(own, believed, shares, leader[0]) : [];
    const together = group.length > 1 && group.length <= 3 ? groupShare(catalogue, shares.entries, group) : leader[1];
    const isSure = Math.max(together, leader[1]) >= sure;
    if (isSure || done.length === readings.length) {
      const named = together >= sure && leader[1] < sure ? group : [leader[0]];
      return { count: done.length, minutes, sure: isSure, right: named.includes(ref) };
    }
    const left = readings.flatMap((_, n) => (done.includes(n) ? [] : [n]));
    let next = left[0]!;
    if (guided) {
      const ahead = outlook({ catalogue, ...design }, read, believed, shares, catalogue.healthy);
      const worth = (n: number): number =>
        readingBits(ahead.components(readings[n]!.terms[0]!.spot)) / costOf(spots[n]!.kind);
      const worths = left.map(worth);
      next = left[worths.indexOf(Math.max(...worths))]!;
    }
    minutes += costOf(spots[next]!.kind);
    done.push(next);
  }
}

function costOf(kind: string): number {
  return kind === 'gain' ? usualMinutes.response : usualMinutes.volts;
}

function groupShare({ entries }: BenchBoard['catalogue'], shares: readonly number[], group: readonly string[]): number {
  return entries.reduce(
    (sum, { hypothesis }, n) => sum + (hypothesis.refs.some((ref) => group.includes(ref)) ? shares[n]! : 0),
    0,
  );
}

function designOf({ readings, shared }: BenchBoard, done: readonly number[]): Pick<BenchBoard, 'readings' | 'shared'> {
  return {
    readings: done.map((n) => readings[n]!),
    shared: shared.map((each) => ({
      ...each,
      readings: done.flatMap((n, k) => (each.readings.includes(n) ? [k] : [])),
    })),
  };
}
