import type { Limits } from '@curvewright/board';
import { logFrequencies } from '@curvewright/curves';

/** Points per decade: two or three pixels of a figure as wide as a page. */
const density = 60;

/** Hz at which curves are drawn, ascending: 20 Hz, 1 kHz and the edges of the limits' bands among them. */
export function curveFrequencies({ deviation, balance }: Limits): Float64Array {
  const named = [20, 1000, deviation.from, deviation.to, balance.from, balance.to];
  const between = logFrequencies(Math.min(2, ...named), Math.max(100_000, ...named), density);
  return Float64Array.from(new Set([...between, ...named])).sort();
}
