import type { State } from '@curvewright/board';
import type { Series } from './figure.ts';

/** The line of channel `index`, in the look of its state. */
export function stateLine(
  state: State,
  channels: readonly string[],
  index: number,
  x: ArrayLike<number>,
  y: ArrayLike<number>,
): Series {
  const channel = channels.length > 1 ? (channels[index] ?? null) : null;
  return { label: state, channel, look: state, double: index > 0, x, y };
}

/** One line a channel, all over the same x. */
export function stateSeries(
  state: State,
  channels: readonly string[],
  x: ArrayLike<number>,
  levels: readonly ArrayLike<number>[],
): readonly Series[] {
  return levels.map((y, index) => stateLine(state, channels, index, x, y));
}
