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
}

/** Steady states of one channel at one frequency over level; each search begins from the state found last. */
export interface SteadySearch {
  readonly hz: number;
  /** Null where none is found. */
  at(inputVolts: number): SteadyState | null;
}

/** A network prepared for sines of any frequency. */
export interface DrivenNetwork {
  /** One search for each channel driven alone, the others' generators at 0 V. */
  searches(hz: number): readonly SteadySearch[];
}

/** Samples of a period a search begins and ends with: 15 and 255 harmonics. */
const fewestSamples = 32;
const mostSamples = 512;

/** The upper half of the harmonics may hold this much of the departures that make distortion; else the samples are doubled. */
const tailTolerance = 1e-4;

/** Halvings of a level step that a search tries before it gives up. */
const mostHalvings = 10;

export function drivenNetwork(network: Network, point: OperatingPoint, small: SmallSignal): DrivenNetwork {
  const departures = departuresOf(network, point);
  return {
    searches(hz) {
      const transfers = harmonicTransfers(small, departures, hz);
      const balances = new Map<number, HarmonicBalance>();
      const balanceOf = (samples: number): HarmonicBalance => {
        const known = balances.get(samples) ?? harmonicBalance(departures, transfers, samples);
        balances.set(samples, known);
        return known;
      };
      return small.channels.map((_, channel) => steadySearch(departures, transfers, balanceOf, channel));
    },
  };
}

function steadySearch(
  departures: readonly Departure[],
  transfers: HarmonicTransfers,
  balanceOf: (samples: number) => HarmonicBalance,
  channel: number,
): SteadySearch {
  let samples = fewestSamples;
  let level = 0;
  let found = balanceOf(samples).moves.slice().fill(0);

  function settleAt(inputVolts: number): boolean {
    const drive = transfers.drives()[channel]!;
    const balance = balanceOf(samples);
    balance.moves.set(found);
    if (!balance.settle(drive.controls, inputVolts)) return false;
    found.set(balance.moves);
    level = inputVolts;
    return true;
  }

  /** Straight to the level, else by way of a level halfway. */
  function approach(inputVolts: number, halvings: number): boolean {
    if (settleAt(inputVolts)) return true;
    if (halvings === 0) return false;
    return approach((level + inputVolts) / 2, halvings - 1) && approach(inputVolts, halvings - 1);
  }

  function refine(): void {
    const before = balanceOf(samples);
    samples *= 2;
    const after = balanceOf(samples);
    const finer = new Float64Array(after.moves.length);
    for (let c = 0; c * 2 * before.harmonics < found.length; c++) {
      const row = found.subarray(c * 2 * before.harmonics, (c + 1) * 2 * before.harmonics);
      finer.set(row, c * 2 * after.harmonics);
    }
    found = finer;
  }

  return {
    hz: transfers.hz,
    at(inputVolts) {
      for (;;) {
        if (!transfers.reach(samples / 2 - 1) || !approach(inputVolts, mostHalvings)) return null;
        if (samples === mostSamples || tailShare(balanceOf(samples)) <= tailTolerance) break;
        refine();
      }
      return stateOf(departures, transfers, balanceOf(samples), channel, inputVolts);
    },
  };
}

/** The largest share of a port's departure, fundamental and DC left out, that lies in the upper half of the harmonics. */
function tailShare({ departures, harmonics }: HarmonicBalance): number {
  let largest = 0;
  for (let start = 0; start < departures.length; start += 2 * harmonics) {
    let [all, upper] = [0, 0];
    for (let k = 2; k < harmonics; k++) {
      const square = departures[start + 2 * k]! ** 2 + departures[start + 2 * k + 1]! ** 2;
      all += square;
      if (k >= harmonics / 2) upper += square;
    }
    if (all > 0) largest = Math.max(largest, Math.sqrt(upper / all));
  }
  return largest;
}

function stateOf(
  departures: readonly Departure[],
  transfers: HarmonicTransfers,
  balance: HarmonicBalance,
  channel: number,
  inputVolts: number,
): SteadyState {
  const { harmonics } = balance;
  const width = 2 * harmonics;
  const portCount = departures.reduce((sum, { ports }) => sum + ports.length, 0);
  const linear = transfers.drives()[channel]!.output.map((value) => value * inputVolts);
  const output = new Float64Array(width);
  output.set(linear, 2);
  let port = 0;
  const parts = departures.map(({ ref, ports }) => {
    const share = new Float64Array(width);
    for (let p = port; p < port + ports.length; p++) {
      for (let k = 0; k < harmonics; k++) {
        const byPorts = transfers.outputsByPorts(k);
        const t = 2 * (channel * portCount + p);
        const [tr, ti] = [byPorts[t]!, byPorts[t + 1]!];
        const [rr, ri] = [balance.departures[p * width + 2 * k]!, balance.departures[p * width + 2 * k + 1]!];
        share[2 * k] = share[2 * k]! + tr * rr - ti * ri;
        share[2 * k + 1] = share[2 * k + 1]! + tr * ri + ti * rr;
      }
    }
    port += ports.length;
    for (let i = 0; i < width; i++) output[i] = output[i]! + share[i]!;
    return { ref, output: share };
  });
  return { inputVolts, output, parts, linear };
}
