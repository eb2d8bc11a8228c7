import type { OperatingPoint } from './bias.ts';
import { liveBias } from './live-bias.ts';
import { liveNetwork, type LiveParameter } from './live-network.ts';
import { liveResponse } from './live-response.ts';
import { liveTransfers, type LiveTransfers } from './live-transfers.ts';
import type { Network } from './network.ts';

/** A board compiled once, whose values are written anew and whose bias and response follow. */
export interface LiveBoard {
  readonly parameters: readonly LiveParameter[];
  /** Hz. */
  readonly frequencies: Float64Array;
  /**
   * Solves bias and response with these values, one for each parameter; false where no bias is found. `turn` says which frequencies are looked
   * at for lost digits: a different number for each of many boards has all of them looked at.
   */
  solve(values: Float64Array, turn?: number): boolean;
  /** The last bias, by unknown of the network. */
  readonly x: Float64Array;
  /** For each channel re, im pairs over the frequencies, from its input node to its output node. */
  readonly gains: readonly Float64Array[];
  /** Null where no spots were asked for. */
  readonly transfers: LiveTransfers | null;
  /** Frequencies that were solved anew with row exchanges so far. */
  readonly resolved: number;
}

/**
 * Analyses a network at its bias; null where it is singular there. Of the capacitors in `whole` ESR, leakage and loss are parameters, too; at
 * `spots` (Hz) what every generator does is solved as well.
 */
export function createLiveBoard(
  network: Network,
  point: OperatingPoint,
  frequencies: Float64Array,
  whole?: ReadonlySet<string>,
  spots?: Float64Array,
): LiveBoard | null {
  const live = liveNetwork(network, whole);
  const bias = liveBias(live, point);
  const response = liveResponse(live.network, point, frequencies);
  const transfers = spots === undefined ? null : liveTransfers(live.network, point, spots);
  if (!bias || !response || (spots !== undefined && !transfers)) return null;
  return {
    parameters: live.parameters,
    frequencies,
    x: bias.x,
    gains: response.gains,
    transfers,
    get resolved() {
      return response.resolved;
    },
    solve(values, turn = 0) {
      if (!bias.solve(values)) return false;
      response.solve(bias, turn);
      transfers?.solve(bias, turn);
      return true;
    },
  };
}
