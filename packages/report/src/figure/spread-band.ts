import type { State } from '@curvewright/board';
import type { BalanceSpread } from '@curvewright/verify';
import type { Band } from './figure.ts';

type Bands = BalanceSpread['bands'];

/** Where 5 to 95 % of the boards lie, of all channels together: two bands over each other would be twice as dark. */
export function spreadBand(state: State, channels: readonly Bands[]): readonly Band[] {
  const [first] = channels;
  if (first === undefined) return [];
  const at = (read: (band: Bands[number]) => number, choose: (...values: number[]) => number): readonly number[] =>
    first.map((_, i) => choose(...channels.flatMap((bands) => (bands[i] === undefined ? [] : [read(bands[i])]))));
  return [
    {
      name: '90 % of healthy boards',
      look: state,
      x: first.map(({ hz }) => hz),
      low: at(({ lowDb }) => lowDb, Math.min),
      high: at(({ highDb }) => highDb, Math.max),
    },
  ];
}
