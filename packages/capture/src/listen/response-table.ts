import type { Pair } from './sweep-take.ts';

/** A complex gain over ascending frequencies in Hz, fine enough that it runs straight between them on logarithmic scales. */
export interface ResponseTable {
  readonly hz: ArrayLike<number>;
  readonly re: ArrayLike<number>;
  readonly im: ArrayLike<number>;
}

/** Reads a table between its frequencies, level and phase straight over log frequency; beyond them as at the nearest. */
export function tableReader({ hz, re, im }: ResponseTable): (at: number) => Pair {
  const lgHz = Float64Array.from(hz, Math.log);
  const level = Float64Array.from(hz, (_, n) => Math.log(Math.hypot(re[n]!, im[n]!)));
  const phase = Float64Array.from(hz, (_, n) => Math.atan2(im[n]!, re[n]!));
  for (let n = 1; n < phase.length; n++) {
    phase[n] = phase[n]! - 2 * Math.PI * Math.round((phase[n]! - phase[n - 1]!) / (2 * Math.PI));
  }
  return (at) => {
    const x = Math.log(at);
    let [low, high] = [0, lgHz.length - 1];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (lgHz[middle]! <= x) low = middle;
      else high = middle;
    }
    const share = high === low ? 0 : Math.min(1, Math.max(0, (x - lgHz[low]!) / (lgHz[high]! - lgHz[low]!)));
    const magnitude = Math.exp(level[low]! + share * (level[high]! - level[low]!));
    const angle = phase[low]! + share * (phase[high]! - phase[low]!);
    return [magnitude * Math.cos(angle), magnitude * Math.sin(angle)];
  };
}
