import { common, type Unknown } from './elements.ts';
import { unknownOf, type Network } from './network.ts';
import { visitSmallSignalTerms, type BiasPoint, type TermKind } from './small-signal-terms.ts';

/**
 * The network linearised at its bias: A(ω) = G + jω·C + ω·D, row-major size × size, with D the dielectric losses that
 * grow with frequency. Plain data.
 */
export interface SmallSignal {
  readonly size: number;
  /** S, and the entries of branch and op-amp rows. */
  readonly conductance: Float64Array;
  /** F, and −H in branch rows. */
  readonly capacitance: Float64Array;
  /** F · tan δ. */
  readonly loss: Float64Array;
  readonly channels: readonly SmallSignalChannel[];
}

export interface SmallSignalChannel {
  readonly name: string;
  /** The row in which a generator of 1 V enters. */
  readonly drive: Unknown;
  readonly input: Unknown;
  readonly output: Unknown;
}

export function linearise(network: Network, point: BiasPoint): SmallSignal {
  const { size } = network;
  const matrices: Record<TermKind, Float64Array> = {
    conductance: new Float64Array(size * size),
    capacitance: new Float64Array(size * size),
    loss: new Float64Array(size * size),
  };
  const add = (target: Float64Array, row: Unknown, column: Unknown, value: number): void => {
    if (row !== common && column !== common) target[row * size + column] = target[row * size + column]! + value;
  };
  visitSmallSignalTerms(network, point, (kind, _, [from, to], [plus, minus], value) => {
    const target = matrices[kind];
    add(target, from, plus, value);
    add(target, from, minus, -value);
    add(target, to, plus, -value);
    add(target, to, minus, value);
  });

  const channels = network.circuit.channels.map(({ name, input, output }, i) => ({
    name,
    drive: network.inputs[i]!.current,
    input: unknownOf(network, input),
    output: unknownOf(network, output),
  }));
  return { size, ...matrices, channels };
}
