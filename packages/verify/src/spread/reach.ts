import { reachOf, sigmaOf } from './bands.ts';

/** How far a level reaches over the boards: 5 %, median, 95 %, lowest and highest found, standard deviation. */
export interface ReachDb {
  readonly lowDb: number;
  readonly medianDb: number;
  readonly highDb: number;
  readonly worstLowDb: number;
  readonly worstHighDb: number;
  readonly sigmaDb: number;
}

/** The same of a frequency that some boards do not have. */
export interface ReachHz {
  readonly lowHz: number;
  readonly medianHz: number;
  readonly highHz: number;
  readonly worstLowHz: number;
  readonly worstHighHz: number;
  /** Fraction of the boards that have such an edge; the others are left out of the reach. */
  readonly share: number;
}

/** The same of a node's bias. */
export interface NodeSpread {
  readonly node: string;
  /** With nominal values. */
  readonly nominalV: number;
  readonly lowV: number;
  readonly medianV: number;
  readonly highV: number;
  readonly worstLowV: number;
  readonly worstHighV: number;
}

export function reachDb(values: Float32Array): ReachDb {
  const { low, median, high, worstLow, worstHigh } = reachOf(values);
  return {
    lowDb: low,
    medianDb: median,
    highDb: high,
    worstLowDb: worstLow,
    worstHighDb: worstHigh,
    sigmaDb: sigmaOf(values),
  };
}

export function reachHz(values: Float32Array): ReachHz | null {
  const { low, median, high, worstLow, worstHigh } = reachOf(values);
  if (Number.isNaN(median)) return null;
  const share = values.filter((hz) => !Number.isNaN(hz)).length / values.length;
  return { lowHz: low, medianHz: median, highHz: high, worstLowHz: worstLow, worstHighHz: worstHigh, share };
}

/** V over the boards. */
export function reachVolts(values: Float32Array, nominalV: number): Omit<NodeSpread, 'node'> {
  const { low, median, high, worstLow, worstHigh } = reachOf(values);
  return { nominalV, lowV: low, medianV: median, highV: high, worstLowV: worstLow, worstHighV: worstHigh };
}
