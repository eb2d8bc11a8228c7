import type { Network } from './network.ts';
import { frequencySolver } from './response.ts';
import { linearise, type SmallSignal } from './linearise.ts';
import type { OperatingPoint } from './bias.ts';

/** V at every channel's output for 1 V in each rail's supply, behind the rail's resistance. */
export interface RailTransfer {
  /** `at(hz)[rail][channel]` in the order of the circuit's rails and channels; NaN where the network is singular. */
  at(hz: number): readonly (readonly number[])[];
}

/** Magnitudes of the transfers from all rails: one solve of the transposed network for each channel. */
export function railTransfer(network: Network, small: SmallSignal): RailTransfer {
  const solver = frequencySolver(small);
  const x = new Float64Array(2 * small.size);
  const rows = network.circuit.rails.map(
    ({ node }) => network.branches.find(({ rail, ref }) => rail && ref === node)!.current,
  );
  return {
    at(hz) {
      const magnitudes = rows.map(() => small.channels.map(() => NaN));
      if (!solver.setFrequency(hz)) return magnitudes;
      small.channels.forEach(({ output }, channel) => {
        x.fill(0);
        if (output >= 0) {
          x[2 * output] = 1;
          solver.solveTransposed(x);
        }
        rows.forEach((row, rail) => {
          magnitudes[rail]![channel] = Math.hypot(x[2 * row]!, x[2 * row + 1]!);
        });
      });
      return magnitudes;
    },
  };
}

/** The network linearised at its bias without one part's capacitance; its leakage stays, so the bias stands. */
export function withoutCapacitance(network: Network, point: OperatingPoint, ref: string): SmallSignal {
  return linearise({ ...network, capacitances: network.capacitances.filter((each) => each.ref !== ref) }, point);
}
