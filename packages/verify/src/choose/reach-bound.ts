import type { Span } from './spots.ts';

/** What one change alone does to every bounded number: how far it moves each from where the rework has it. */
export type Moves = Float32Array;

/** For the places of a search: the moves of every option, and the lowest and highest of them in each number. */
export interface ReachBound {
  /** Whether, as far as moves add up, some way to change the open places brings every number into its span. */
  mayPass(chosen: readonly Moves[], open: readonly number[]): boolean;
}

/**
 * Moves of several changes are taken to add up to within `reserve` of the sum of their sizes: levels in dB and voltages do nearly so, but for
 * parts that work upon each other. With a reserve of 0 the bound is exact for numbers that add up exactly.
 */
export function reachBound(
  start: Float32Array,
  spans: readonly Span[],
  movesOfPlaces: readonly (readonly Moves[])[],
  reserve: number,
): ReachBound {
  const lowest = movesOfPlaces.map((all) => extremes(all, spans.length, Math.min));
  const highest = movesOfPlaces.map((all) => extremes(all, spans.length, Math.max));
  return {
    mayPass(chosen, open) {
      for (let n = 0; n < spans.length; n++) {
        const [low, high] = spans[n]!;
        let [from, to, size] = [start[n]!, start[n]!, 0];
        if (Number.isNaN(from)) continue;
        for (const moves of chosen) {
          const move = moves[n]!;
          from += move;
          to += move;
          size += Math.abs(move);
        }
        for (const place of open) {
          const [down, up] = [lowest[place]![n]!, highest[place]![n]!];
          from += down;
          to += up;
          size += Math.max(Math.abs(down), Math.abs(up));
        }
        // What a single-precision number cannot tell apart must not decide.
        const slack = reserve * size + 1e-5 * (1 + Math.abs(start[n]!));
        if (to + slack < low || from - slack > high) return false;
      }
      return true;
    },
  };
}

function extremes(all: readonly Moves[], length: number, pick: (a: number, b: number) => number): Float32Array {
  const found = new Float32Array(length);
  for (const moves of all)
    for (let n = 0; n < length; n++) found[n] = all[0] === moves ? moves[n]! : pick(found[n]!, moves[n]!);
  return found;
}
