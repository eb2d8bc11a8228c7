import type { ChannelDifference } from './channel-difference.ts';
import type { NearPair, Selection } from './nearest-selections.ts';

/** First channel against the last. */
export interface Difference {
  /** Largest over the balance limit's band; first over last. */
  readonly differenceDb: number;
  readonly hz: number;
  /** Largest of a node that both have, first less last. */
  readonly biasMv: number;
  /** Bare name; null where the channels have no node in common. */
  readonly node: string | null;
}

/** The largest level and the largest bias of a channel difference. */
export function toldDifference(numbers: Float64Array, { hz, nodes }: ChannelDifference): Difference {
  const level = furthestOf(numbers.subarray(0, hz.length));
  const bias = furthestOf(numbers.subarray(hz.length));
  return {
    differenceDb: numbers[level] ?? 0,
    hz: hz[level] ?? NaN,
    biasMv: 1000 * (numbers[hz.length + bias] ?? 0),
    node: nodes[bias] ?? null,
  };
}

function furthestOf(numbers: Float64Array): number {
  return numbers.reduce((at, value, k) => (Math.abs(value) > Math.abs(numbers[at]!) ? k : at), 0);
}

/** What any choice differs by at most, number by number, and the choice whose curves lie furthest apart (a piece may stand in it twice); null without any. */
export function anyDifference(
  firsts: readonly Selection[],
  lasts: readonly Selection[],
  { hz, weights }: ChannelDifference,
): { readonly differenceDb: number; readonly biasMv: number; readonly widest: NearPair | null } {
  let [differenceDb, biasMv] = [0, 0];
  let widest: NearPair | null = null;
  for (let k = 0; k < weights.length; k++) {
    const [first, last] = [spanOf(firsts, k), spanOf(lasts, k)];
    if (first === null || last === null) continue;
    for (const [one, other] of [
      [first.high, last.low],
      [first.low, last.high],
    ] as const) {
      const apart = Math.abs(one.numbers[k]! - other.numbers[k]!);
      if (k >= hz.length) biasMv = Math.max(biasMv, (1000 * apart) / weights[k]!);
      else if (apart > differenceDb) [differenceDb, widest] = [apart, { first: one, last: other, apart }];
    }
  }
  return { differenceDb, biasMv, widest };
}

function spanOf(
  selections: readonly Selection[],
  k: number,
): { readonly low: Selection; readonly high: Selection } | null {
  let [low, high] = [selections[0], selections[0]];
  if (low === undefined || high === undefined) return null;
  for (const each of selections) {
    if (each.numbers[k]! < low.numbers[k]!) low = each;
    if (each.numbers[k]! > high.numbers[k]!) high = each;
  }
  return { low, high };
}
