import type { Deconvolved } from './gates.ts';

/** A complex number: re, im. */
export type Pair = readonly [number, number];

/** An exponential sweep as it came back, with quiet before and after it, divided by the same sweep at an even level of 1. */
export interface SweepTake {
  readonly rate: number;
  readonly heard: Deconvolved;
  /** What was played, divided likewise; null for an even level of 1. */
  readonly shape: Deconvolved | null;
  /** s from the start of the take to that of the sweep. */
  readonly begins: number;
  /** s of the whole take. */
  readonly lasts: number;
  /** Of the sweep alone. */
  readonly seconds: number;
  readonly fromHz: number;
  readonly toHz: number;
  /** Where the recording ends, below `toHz` where it was taken at a lower rate. */
  readonly highestHz: number;
}

/** s in which the sweep's frequency grows e-fold: harmonic N stands this · ln N before the response. */
export function growthOf({ seconds, fromHz, toHz }: Pick<SweepTake, 'seconds' | 'fromHz' | 'toHz'>): number {
  return seconds / Math.log(toHz / fromHz);
}

/** s from the start of the take to the moment at which the sweep passes a frequency. */
export function momentOf(take: SweepTake, hz: number): number {
  return take.begins + growthOf(take) * Math.log(hz / take.fromHz);
}
