import type { OperatingPoint } from './bias.ts';
import { departuresOf, type Departure } from './departures.ts';
import { harmonicBalance, type HarmonicBalance } from './harmonic-balance.ts';
import { harmonicTransfers, type HarmonicTransfers } from './harmonic-transfers.ts';
import type { SmallSignal } from './linearise.ts';
import type { Network } from './network.ts';

/**
 * The steady state of the full nonlinear network under a sine, by harmonic balance (Nakhla & Vlach, IEEE Trans. CAS 23, 1976; Kundert &
 * Sangiovanni-Vincentelli, IEEE Trans. CAD 5, 1986).
 *
 * Why not in time: a stage has time constants from 10 ns to 10 s, so settling takes a million steps, and shooting needs a period's
 * transition matrix of every capacitor with steps short enough for a distortion of 1e-6. Harmonics know no time constant: each is one
 * linear solve, dielectric losses included. The lines of the small signal are taken off the nonlinear parts, so that only what they bend
 * is left to iterate on: at a small level the answer is the small-signal one to rounding, and distortion keeps its own relative accuracy.
 * Newton's linear systems are solved without a matrix (GMRES), since they are the unit matrix but for the bent samples.
 */
export interface SteadyState {
  /** V rms at the channel's input node (with the network linear, where the source has a resistance). */
  readonly inputVolts: number;
  /** Amplitudes at the output, V, re im pairs: k = 0 (the shift of its DC) up to the highest harmonic solved. */
  readonly output: Float64Array;
  /** What each nonlinear part's departure from its small-signal line brings to `output`; with `linear` they add up to it. */
  readonly parts: readonly { readonly ref: string; readonly output: Float64Array }[];
  /** Amplitude of the fundamental at the output were every part linear, a pair. */
  readonly linear: Float64Array;
  /** Harmonics of the moves of all controls: where the search for a state nearby begins. */
  readonly moves: Float64Array;
}

/** Steady states of one channel at one frequency over level. */
export interface SteadySearch {
  readonly hz: number;
  /**
   * The state at a level, sought from that of a level nearby, or from the bias; null where that is too far off (or the network singular
   * at a harmonic).
   */
  at(inputVolts: number, near: SteadyState | null): SteadyState | null;
}

/** Samples of a period a search begins and ends with: 31 and 63 harmonics. */
const fewestSamples = 64;
const mostSamples = 128;

/**
 * What the upper half of the harmonics would bring to the audible ones, folded down, over the distortion there and over the fundamental;
 * above both the samples are doubled.
 */
const foldedOverDistortion = 1e-3;
const foldedOverFundamental = 1e-8;

/** For one channel (its index) driven alone, the others' generators at 0 V. */
export function steadySearch(
  network: Network,
  point: OperatingPoint,
  small: SmallSignal,
  channel: number,
  hz: number,
): SteadySearch {
  const driven = small.channels[channel]!;
  const departures = departuresOf(network, point, driven.name);
  const transfers = harmonicTransfers(small, driven, departures, hz);
  const balances = new Map<number, HarmonicBalance>();
  let samples = fewestSamples;

  function balanceOf(count: number): HarmonicBalance | null {
    const known = balances.get(count);
    if (known || !transfers.reach(count / 2 - 1)) return known ?? null;
    const made = harmonicBalance(departures, transfers, count);
    balances.set(count, made);
    return made;
  }

  return {
    hz,
    at(inputVolts, near) {
      let state = near;
      let found: SteadyState | null = null;
      for (;;) {
        const balance = balanceOf(samples);
        if (balance === null) return found;
        resample(state?.moves ?? null, balance);
        // On finer samples the same level may fail to settle; what the coarser ones gave then stands.
        if (!balance.settle(inputVolts)) return found;
        state = found = stateOf(departures, transfers, balance, inputVolts);
        if (samples === mostSamples || isFineEnough(found, transfers, balance)) return found;
        samples *= 2;
      }
    },
  };
}

/** Fills a balance's moves with those found on the same, a coarser or a finer grid; null: the bias. */
function resample(found: Float64Array | null, { moves, harmonics, controls }: HarmonicBalance): void {
  moves.fill(0);
  if (found === null) return;
  const known = found.length / controls;
  const kept = Math.min(known, 2 * harmonics);
  for (let c = 0; c < controls; c++) moves.set(found.subarray(c * known, c * known + kept), c * 2 * harmonics);
}

/** The highest harmonic that counts as distortion. */
export const highestHarmonic = 10;

/** Root of the sum of the squares of the amplitudes from one harmonic to another. */
function rootSum(pairs: Float64Array, start: number, from: number, to: number): number {
  let sum = 0;
  for (let k = from; k <= to; k++) sum += pairs[start + 2 * k]! ** 2 + pairs[start + 2 * k + 1]! ** 2;
  return Math.sqrt(sum);
}

function isFineEnough(
  { output }: SteadyState,
  transfers: HarmonicTransfers,
  { departures, harmonics }: HarmonicBalance,
): boolean {
  const portCount = departures.length / (2 * harmonics);
  let folded = 0;
  for (let p = 0; p < portCount; p++) {
    let reach = 0;
    for (let k = 2; k <= highestHarmonic; k++) {
      const byPorts = transfers.outputByPorts(k);
      reach = Math.max(reach, Math.hypot(byPorts[2 * p]!, byPorts[2 * p + 1]!));
    }
    folded += reach * rootSum(departures, 2 * p * harmonics, harmonics / 2, harmonics - 1);
  }
  const allowed = foldedOverDistortion * rootSum(output, 0, 2, highestHarmonic);
  return folded <= allowed + foldedOverFundamental * rootSum(output, 0, 1, 1);
}

function stateOf(
  departures: readonly Departure[],
  transfers: HarmonicTransfers,
  balance: HarmonicBalance,
  inputVolts: number,
): SteadyState {
  const { harmonics } = balance;
  const width = 2 * harmonics;
  const linear = transfers.driven.map((value) => value * inputVolts);
  const output = new Float64Array(width);
  output.set(linear, 2);
  let port = 0;
  const parts = departures.map(({ ref, ports }) => {
    const share = new Float64Array(width);
    for (let p = port; p < port + ports.length; p++) {
      for (let k = 0; k < harmonics; k++) {
        const byPorts = transfers.outputByPorts(k);
        const [tr, ti] = [byPorts[2 * p]!, byPorts[2 * p + 1]!];
        const [rr, ri] = [balance.departures[p * width + 2 * k]!, balance.departures[p * width + 2 * k + 1]!];
        share[2 * k] = share[2 * k]! + tr * rr - ti * ri;
        share[2 * k + 1] = share[2 * k + 1]! + tr * ri + ti * rr;
      }
    }
    port += ports.length;
    for (let i = 0; i < width; i++) output[i] = output[i]! + share[i]!;
    return { ref, output: share };
  });
  return { inputVolts, output, parts, linear, moves: balance.moves.slice() };
}
