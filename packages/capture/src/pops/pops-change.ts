import { rateChange } from './counting.ts';
import type { ChannelPops, PopHit, PopsAnswer } from './pops-answer.ts';

/** One channel before and after. */
export interface PopsChange {
  readonly name: string;
  /** Hits counted of each recording: those high enough for both to have found them. */
  readonly before: number;
  readonly after: number;
  readonly ratio: number | null;
  readonly ratioLow: number;
  /** Null where nothing bounds it. */
  readonly ratioHigh: number | null;
  readonly chance: number;
  /** At 5 in 100. */
  readonly verdict: 'fewer' | 'more' | 'no change shown';
}

/** Compares recordings channel by channel. The quieter one shows smaller pops; those that the other one would have hidden do not count. */
export function popsChange(before: PopsAnswer, after: PopsAnswer): readonly PopsChange[] {
  return after.channels.flatMap((now, c) => {
    const then = before.channels[c];
    return then === undefined ? [] : [changeOf(then, now)];
  });
}

function changeOf(then: ChannelPops, now: ChannelPops): PopsChange {
  const isCounted = ({ kind, share, uv }: PopHit): boolean => {
    const least = [then, now].map((channel) => channel.least[kind === 'step' ? 'step' : 'click']);
    return least.every((each) => {
      if (each === null) return true;
      return uv !== null && each.uv !== null ? Math.abs(uv) >= each.uv : Math.abs(share) >= each.share;
    });
  };
  const [before, after] = [then, now].map(({ hits }) => hits.filter(isCounted).length) as [number, number];
  const { ratio, bounds, chance } = rateChange(
    { count: before, minutes: then.minutes },
    { count: after, minutes: now.minutes },
  );
  const isFewer = after * then.minutes < before * now.minutes;
  return {
    ...{ name: now.name, before, after, ratio, ratioLow: bounds.low },
    ratioHigh: bounds.high === Infinity ? null : bounds.high,
    chance,
    verdict: chance >= 0.05 ? 'no change shown' : isFewer ? 'fewer' : 'more',
  };
}
