import type { Circuit } from '@curvewright/board';
import {
  compileNetwork,
  linearise,
  solveBias,
  solveResponse,
  type Network,
  type OperatingPoint,
  type Source,
} from '../src/index.ts';
import type { Complex } from './complex.ts';

/** A circuit's network at its bias; throws where no bias is found, which fails the test that asked. */
export function biased(circuit: Circuit, source?: Source): { network: Network; point: OperatingPoint } {
  const network = compileNetwork(circuit, source);
  const bias = solveBias(network);
  if (!bias.ok) throw new Error(bias.diagnostic.message);
  return { network, point: bias.point };
}

/** Gain of the first channel at each frequency (Hz); throws where a solve leaves more than rounding. */
export function gains(circuit: Circuit, frequencies: Iterable<number>): readonly Complex[] {
  const { network, point } = biased(circuit);
  const response = solveResponse(linearise(network, point), Float64Array.from(frequencies));
  // A backward-stable solve leaves n·eps times a small growth; 1e-13 is that for the few dozen unknowns here.
  if (!(response.residual <= 1e-13)) throw new Error(`residual ${response.residual}`);
  const flat = response.gains[0]![0]!;
  return [...response.frequencies].map((_, n) => [flat[2 * n]!, flat[2 * n + 1]!]);
}

export function gainAt(circuit: Circuit, hz: number): Complex {
  return gains(circuit, [hz])[0]!;
}
