import { liveSweep, type LiveSide } from './live-sweep.ts';
import type { Network } from './network.ts';
import { unknownOf } from './network.ts';
import type { BiasPoint } from './small-signal-terms.ts';

/** Solves the response of one network over and over as its values and bias change, over frequencies fixed once. */
export interface LiveResponse {
  /** For each channel re, im pairs, from its input node to its output node. */
  readonly gains: readonly Float64Array[];
  /** Frequencies solved anew with row exchanges so far, because the fixed order had lost digits. */
  readonly resolved: number;
  /** `turn`: which of the frequencies are looked at for lost digits; another number for each board reaches all in turn. */
  solve(point: BiasPoint, turn: number): void;
}

/** Analyses the network at a bias for these frequencies (Hz); null where it is singular there. */
export function liveResponse(network: Network, nominal: BiasPoint, frequencies: Float64Array): LiveResponse | null {
  /** A generator of 1 V without impedance holds the input node at 1 V: nothing is left to divide by. */
  const ideal = network.inputs.every(({ ohms, henries }) => ohms === 0 && henries === 0);
  const sides = network.circuit.channels.map(({ input, output }, i): LiveSide => {
    const [over, under] = [unknownOf(network, output), unknownOf(network, input)];
    return { entry: network.inputs[i]!.current, transposed: false, wanted: ideal ? [over] : [over, under] };
  });
  const sweep = liveSweep(network, nominal, frequencies, sides);
  if (!sweep) return null;
  const gains = sweep.solutions.map(([over]) => (ideal ? over! : new Float64Array(2 * frequencies.length)));
  return {
    gains,
    get resolved() {
      return sweep.resolved;
    },
    solve(point, turn) {
      sweep.solve(point, turn);
      if (ideal) return;
      for (let i = 0; i < gains.length; i++) divide(gains[i]!, sweep.solutions[i]![0]!, sweep.solutions[i]![1]!);
    },
  };
}

function divide(target: Float64Array, over: Float64Array, under: Float64Array): void {
  for (let k = 0; k < target.length; k += 2) {
    const [or, oi, ur, ui] = [over[k]!, over[k + 1]!, under[k]!, under[k + 1]!];
    const norm = ur * ur + ui * ui;
    target[k] = (or * ur + oi * ui) / norm;
    target[k + 1] = (oi * ur - or * ui) / norm;
  }
}
