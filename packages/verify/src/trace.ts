import type { Trace } from '@curvewright/network';

/** The last instant (s) at which a trace is further than `within` (V) from `target`; null where it ends outside. Straight between its points. */
export function settledAfter({ seconds, volts }: Trace, target: number, within: number): number | null {
  let last = volts.length - 1;
  const outside = (n: number): number => Math.abs(volts[n]! - target) - within;
  if (last < 0 || outside(last) > 0) return null;
  while (last > 0 && outside(last - 1) <= 0) last--;
  if (last === 0) return seconds[0]!;
  const edge = target + within * Math.sign(volts[last - 1]! - target);
  const share = (edge - volts[last - 1]!) / (volts[last]! - volts[last - 1]!);
  return seconds[last - 1]! + share * (seconds[last]! - seconds[last - 1]!);
}

/** At most `most` points of a trace: its ends, and the lowest and the highest of each of equally long runs between them. */
export function thinned({ seconds, volts }: Trace, most: number): readonly { s: number; volts: number }[] {
  const point = (n: number): { s: number; volts: number } => ({ s: seconds[n]!, volts: volts[n]! });
  const last = volts.length - 1;
  if (last < most) return volts.map((_, n) => point(n));
  const runs = Math.floor((most - 2) / 2);
  const kept = new Set([0]);
  for (let run = 0; run < runs; run++) {
    const from = 1 + Math.floor((run * (last - 1)) / runs);
    const to = 1 + Math.floor(((run + 1) * (last - 1)) / runs);
    let [low, high] = [from, from];
    for (let n = from; n < to; n++) {
      if (volts[n]! < volts[low]!) low = n;
      if (volts[n]! > volts[high]!) high = n;
    }
    kept.add(Math.min(low, high)).add(Math.max(low, high));
  }
  return [...kept.add(last)].map(point);
}
