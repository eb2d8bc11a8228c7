import { liveSweep, type LiveSide } from './live-sweep.ts';
import { unknownOf, type Network } from './network.ts';
import type { BiasPoint } from './small-signal-terms.ts';

/** What every generator of a live board does, at a few frequencies fixed once; `n` counts them. Of the last solve. */
export interface LiveTransfers {
  /** Hz. */
  readonly frequencies: Float64Array;
  /** |V| at a channel's output for 1 V in a rail's supply, behind the rail's resistance. */
  fromRail(rail: number, channel: number, n: number): number;
  /** |V| at a channel's output for 1 V in the generator at a channel's input. */
  fromInput(from: number, to: number, n: number): number;
  /** What a channel's generator looks into, S, the real part alone. */
  inputConductance(channel: number, n: number): number;
}

export interface SolvedTransfers extends LiveTransfers {
  solve(point: BiasPoint, turn: number): void;
}

/** Analyses the network at a bias for these frequencies (Hz): one transposed solve and one plain one for each channel. Null where it is singular there. */
export function liveTransfers(network: Network, nominal: BiasPoint, frequencies: Float64Array): SolvedTransfers | null {
  const { channels, rails } = network.circuit;
  const supplies = rails.map(({ node }) => network.branches.find(({ rail, ref }) => rail && ref === node)!.current);
  const drives = network.inputs.map(({ current }) => current);
  const sides = [
    ...channels.map(({ output }): LiveSide => ({
      entry: unknownOf(network, output),
      transposed: true,
      wanted: [...supplies, ...drives],
    })),
    ...channels.map(({ input }, i): LiveSide => ({
      entry: drives[i]!,
      transposed: false,
      wanted: [unknownOf(network, input), drives[i]!],
    })),
  ];
  const sweep = liveSweep(network, nominal, frequencies, sides);
  if (!sweep) return null;
  const magnitude = (side: number, wanted: number, n: number): number => {
    const pairs = sweep.solutions[side]![wanted]!;
    return Math.hypot(pairs[2 * n]!, pairs[2 * n + 1]!);
  };
  return {
    frequencies,
    solve: (point, turn) => {
      sweep.solve(point, turn);
    },
    fromRail: (rail, channel, n) => magnitude(channel, rail, n),
    fromInput: (from, to, n) => magnitude(to, rails.length + from, n),
    inputConductance(channel, n) {
      const [volts, amps] = sweep.solutions[channels.length + channel]!;
      const [vr, vi, ir, ii] = [volts![2 * n]!, volts![2 * n + 1]!, amps![2 * n]!, amps![2 * n + 1]!];
      // The branch's current flows out of the input node, so the board's flows against it.
      return -(ir * vr + ii * vi) / (vr * vr + vi * vi);
    },
  };
}
