import type { OperatingPoint } from './bias.ts';
import { departuresOf } from './departures.ts';
import { harmonicBalance, type HarmonicBalance } from './harmonic-balance.ts';
import { harmonicTransfers } from './harmonic-transfers.ts';
import type { SmallSignal } from './linearise.ts';
import type { Network } from './network.ts';
import { isFineEnough, outputOf } from './output-harmonics.ts';
import { startAt } from './steady-start.ts';
import type { SteadyState } from './steady-state.ts';
import { stepTransfer } from './step-transfer.ts';

/**
 * Steady states of one channel at one frequency over level, by harmonic balance (Nakhla & Vlach, IEEE Trans. CAS 23, 1976; Kundert &
 * Sangiovanni-Vincentelli, IEEE Trans. CAD 5, 1986).
 *
 * Why not in time: a stage has time constants from 10 ns to 10 s, so settling takes a million steps, and shooting needs a period's
 * transition matrix of every capacitor with steps short enough for a distortion of 1e-6. Harmonics know no time constant: each is one
 * linear solve, dielectric losses included. The lines of the small signal are taken off the nonlinear parts, so that only what they bend
 * is left to iterate on: at a small level the answer is the small-signal one to rounding, and distortion keeps its own relative accuracy.
 * What the network does at once stays with the parts, instant by instant, as their load line: exponentials are then solved where they are
 * cheap, and the balance has nothing steeper left than the network itself. Newton's linear systems, near the unit matrix, are solved
 * without a matrix (GMRES).
 */
export interface SteadySearch {
  readonly hz: number;
  /**
   * The state at a level, sought on the line through one nearby and another (none: rest), or from the bias where there is none nearby; null
   * where that is too far off (or the network singular at a harmonic).
   */
  at(inputVolts: number, near: SteadyState | null, other?: SteadyState | null): SteadyState | null;
}

/**
 * How a wave may jump where a loop turns about: `sharp`, in no time, as the equations have it; `smoothed`, as fast as the harmonics solved. From
 * the level at which a wave must jump up to the one at which it does so in every period alike, only smoothed states are found.
 */
export type Jumps = 'sharp' | 'smoothed';

/** Samples of a period a search begins with, and those it ends with: 31 and 63 harmonics. A smoothed wave is not worth more than the first. */
const fewestSamples = 64;
const mostSamples: Readonly<Record<Jumps, number>> = { sharp: 128, smoothed: fewestSamples };

/** The step of time of the load lines, over one of the fewest samples. */
const stepShare: Readonly<Record<Jumps, number>> = { sharp: 1, smoothed: 2e-3 };

/** For one channel (its index) driven alone, the others' generators at 0 V. */
export function steadySearch(
  network: Network,
  point: OperatingPoint,
  small: SmallSignal,
  channel: number,
  hz: number,
  jumps: Jumps = 'sharp',
): SteadySearch {
  const driven = small.channels[channel]!;
  const departures = departuresOf(network, point, driven.name);
  const transfers = harmonicTransfers(small, driven, departures, hz);
  // One step for all grids, so that open moves found on one mean the same on another.
  const resistances = stepTransfer(small, departures, stepShare[jumps] / (hz * fewestSamples));
  const balances = new Map<number, HarmonicBalance>();
  let samples = fewestSamples;

  function balanceOf(count: number): HarmonicBalance | null {
    const known = balances.get(count);
    if (known || !transfers.reach(count / 2 - 1)) return known ?? null;
    const made = harmonicBalance(departures, transfers, resistances, count);
    balances.set(count, made);
    return made;
  }

  return {
    hz,
    at(inputVolts, near, other = null) {
      let found: SteadyState | null = null;
      for (;;) {
        const balance = balanceOf(samples);
        if (balance === null) return found;
        if (found) startAt(balance, inputVolts, found, null);
        else startAt(balance, inputVolts, near, other);
        // On finer samples the same level may fail to settle; what the coarser ones gave then stands.
        if (!balance.settle(inputVolts)) return found;
        const start = { open: balance.open.slice(), moves: balance.moves.slice() };
        found = { inputVolts, ...outputOf(departures, transfers, balance, inputVolts), start };
        if (samples === mostSamples[jumps] || isFineEnough(found.output, transfers, balance)) return found;
        samples *= 2;
      }
    },
  };
}
