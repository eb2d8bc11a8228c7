import type { Limits } from '@curvewright/board';
import { unknownOf, type LiveBoard, type Network } from '@curvewright/network';
import { extreme, fallThrough, furthest, type Sweep } from './sweep.ts';

/** The figures of one channel that are searched over a band, or read at a spot, in the order in which a row holds them. */
export const channelFigures = ['deviation', 'bass', 'treble', 'ultrasonic', 'subsonic_high', 'subsonic_low'] as const;

/** Where in a row of numbers each answer of one board stands: first places of runs that are ordered by channel, then as told. */
export interface RowLayout {
  /** Of each channel: deviation at each told frequency, dB. */
  readonly deviation: number;
  /** The first channel over the last at each told frequency, dB; none of one channel. */
  readonly difference: number;
  /** Of each channel: gain at 1 kHz, dB. */
  readonly gain: number;
  /** Of each channel: Hz where deviation falls through −3 dB below and above 1 kHz, NaN where it does not. */
  readonly rolloff: number;
  readonly rolloffHigh: number;
  /** Of each channel: `channelFigures`, dB. */
  readonly figures: number;
  /** Difference of the channels furthest from 0 in the balance limit's band, signed, dB; none of one channel. */
  readonly balance: number;
  /** V of each of `nodes`. */
  readonly volts: number;
  /** Full names: all but gnd and the rails. */
  readonly nodes: readonly string[];
  readonly size: number;
}

export function rowLayout({ circuit, nodes: unknowns }: Network, { told }: Sweep): RowLayout {
  const channels = circuit.channels.length;
  const both = channels > 1 ? 1 : 0;
  const rails = new Set(circuit.rails.map(({ node }) => node));
  const nodes = [...unknowns.keys()].filter((node) => !rails.has(node));
  const lengths = [
    channels * told.length,
    both * told.length,
    channels,
    channels,
    channels,
    channels * channelFigures.length,
    both,
    nodes.length,
  ];
  const starts = lengths.map((_, n) => lengths.slice(0, n).reduce((sum, length) => sum + length, 0));
  const [deviation = 0, difference = 0, gain = 0, rolloff = 0, rolloffHigh = 0, figures = 0, balance = 0, volts = 0] =
    starts;
  const size = volts + nodes.length;
  return { deviation, difference, gain, rolloff, rolloffHigh, figures, balance, volts, nodes, size };
}

/** dB of a power per ln; the natural logarithm is the faster one, and 324 of them are taken on each board. */
const perNeper = 10 / Math.LN10;

/** Reads the last solve of a live board. */
export interface BoardReader {
  /** Gain of each channel over the sweep, dB; as of the last `readGains` or `readRow`. */
  readonly gains: readonly Float64Array[];
  readGains(): void;
  /** Fills a row as its layout says. */
  readRow(row: Float64Array): void;
}

export function boardReader(
  network: Network,
  live: LiveBoard,
  sweep: Sweep,
  layout: RowLayout,
  limits: Limits,
): BoardReader {
  const { logHz, target, reference, told } = sweep;
  const gains = live.gains.map(() => new Float64Array(sweep.hz.length));
  const curve = new Float64Array(sweep.hz.length);
  const unknowns = layout.nodes.map((node) => unknownOf(network, node));
  const [lowest, highest] = [sweep.at(2), sweep.at(100_000)];
  const bandOf = ({ from, to }: { readonly from: number; readonly to: number }): readonly [number, number] => [
    sweep.at(from),
    sweep.at(to),
  ];
  const bands = {
    deviation: bandOf(limits.deviation),
    treble: bandOf(limits.treble),
    ultrasonic: bandOf(limits.ultrasonic),
    subsonic_high: bandOf(limits.subsonic_high),
    subsonic_low: bandOf(limits.subsonic_low),
    balance: bandOf(limits.balance),
  };
  const bass = sweep.at(limits.bass.at);

  function readGains(): void {
    live.gains.forEach((pairs, c) => {
      const gain = gains[c]!;
      for (let i = 0; i < gain.length; i++) {
        const re = pairs[2 * i]!;
        const im = pairs[2 * i + 1]!;
        gain[i] = perNeper * Math.log(re * re + im * im);
      }
    });
  }

  function copyTold(row: Float64Array, at: number): void {
    for (let n = 0; n < told.length; n++) row[at + n] = curve[told[n]!]!;
  }

  function readChannel(row: Float64Array, c: number): void {
    const gain = gains[c]!;
    const level = gain[reference]!;
    for (let i = 0; i < curve.length; i++) curve[i] = gain[i]! - level - target[i]!;
    copyTold(row, layout.deviation + c * told.length);
    row[layout.gain + c] = level;
    row[layout.rolloff + c] = fallThrough(curve, sweep, -3, reference, lowest);
    row[layout.rolloffHigh + c] = fallThrough(curve, sweep, -3, reference, highest);
    const at = layout.figures + c * channelFigures.length;
    row[at] = furthest(curve, logHz, bands.deviation[0], bands.deviation[1]);
    row[at + 1] = curve[bass]!;
    row[at + 2] = furthest(curve, logHz, bands.treble[0], bands.treble[1]);
    row[at + 3] = extreme(curve, logHz, bands.ultrasonic[0], bands.ultrasonic[1], 1);
    row[at + 4] = extreme(curve, logHz, bands.subsonic_high[0], bands.subsonic_high[1], 1);
    row[at + 5] = extreme(curve, logHz, bands.subsonic_low[0], bands.subsonic_low[1], 1);
  }

  function readBalance(row: Float64Array): void {
    const last = gains.length - 1;
    let worst = 0;
    for (let c = 1; c <= last; c++) {
      for (let i = 0; i < curve.length; i++) curve[i] = gains[0]![i]! - gains[c]![i]!;
      const found = furthest(curve, logHz, bands.balance[0], bands.balance[1]);
      if (Math.abs(found) > Math.abs(worst)) worst = found;
    }
    copyTold(row, layout.difference);
    row[layout.balance] = worst;
  }

  return {
    gains,
    readGains,
    readRow(row) {
      readGains();
      gains.forEach((_, c) => {
        readChannel(row, c);
      });
      if (gains.length > 1) readBalance(row);
      for (let n = 0; n < unknowns.length; n++) row[layout.volts + n] = live.x[unknowns[n]!]!;
    },
  };
}
