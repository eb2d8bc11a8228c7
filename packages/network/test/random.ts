/** Draws that repeat from run to run. */
export interface Draws {
  /** Between two values, evenly. */
  even(from: number, to: number): number;
  /** Between two positive values, evenly in the logarithm. */
  log(from: number, to: number): number;
  /** A whole number, both ends included. */
  whole(from: number, to: number): number;
  pick<T>(choices: readonly T[]): T;
  chance(probability: number): boolean;
}

/** A 32-bit generator of the multiply-and-shift kind (T. Ettinger's mulberry32, public domain): good enough to spread test cases. */
export function drawsFrom(seed: number): Draws {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const draws: Draws = {
    even: (from, to) => from + (to - from) * next(),
    log: (from, to) => from * (to / from) ** next(),
    whole: (from, to) => from + Math.floor((to - from + 1) * next()),
    pick: (choices) => choices[Math.floor(choices.length * next())]!,
    chance: (probability) => next() < probability,
  };
  return draws;
}
