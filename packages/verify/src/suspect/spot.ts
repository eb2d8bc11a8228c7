import type { Circuit, NodeName } from '@curvewright/board';
import { bareName } from '../node-volts.ts';

/** A meter by its input resistance (Ω) and accuracy (fraction of the reading), or by its sensitivity (Ω/V) on a range (V), its accuracy then of the range. */
export type BenchMeter =
  | { readonly resistance: number; readonly accuracy: number }
  | { readonly sensitivity: number; readonly range: number; readonly accuracy: number };

/** What most benches have: common practice, no source. */
export const usualMeter: BenchMeter = { resistance: 10e6, accuracy: 0.01 };

/** A place and a way to measure; every one has a number that a circuit predicts. */
export type Spot =
  /** V of the first node over the second. */
  | { readonly kind: 'volts'; readonly nodes: readonly [NodeName, NodeName]; readonly meter: BenchMeter }
  /** dB from the channel's input node to its output node. */
  | { readonly kind: 'gain'; readonly channel: number; readonly hz: number }
  /** ln Ω between two nodes, power off. */
  | { readonly kind: 'ohms'; readonly nodes: readonly [NodeName, NodeName]; readonly meter: BenchMeter }
  /** dB re 1 V: A-weighted noise from 20 Hz to 20 kHz at the output over the gain at 1 kHz, input shorted. */
  | { readonly kind: 'hiss'; readonly channel: number }
  /** dB re the programme: what the rails' ripple makes at the output. */
  | { readonly kind: 'hum'; readonly channel: number };

/** Ω that the meter puts between its probes. */
export function meterOhms(meter: BenchMeter): number {
  return 'resistance' in meter ? meter.resistance : meter.sensitivity * meter.range;
}

/** V by which this meter may be off at `volts`, one standard deviation: its accuracy is a bound, within which no error is likelier than another. */
export function meterSigma(meter: BenchMeter, volts: number): number {
  const bound = 'resistance' in meter ? meter.accuracy * Math.abs(volts) : meter.accuracy * meter.range;
  return bound / Math.sqrt(3);
}

/** Standard deviation of ln Ω: the accuracy in the reading's logarithm; a pointer's ohm scale is good to a part of its arc. */
export function ohmsSigma(meter: BenchMeter): number {
  return Math.hypot(meter.accuracy, contactShare) / Math.sqrt(3);
}

/** What probes and scale add to a cold reading: common practice, no source. */
const contactShare = 0.02;

/** Ω of what an ohmmeter takes for open. */
export const openOhms = 50e6;

/** The voltage of every node against gnd: each channel's own, then the shared ones and the rails. */
export function chartSpots(circuit: Circuit, nodes: Iterable<NodeName>, meter: BenchMeter): readonly Spot[] {
  const channels = circuit.channels.map(({ name }) => name);
  const place = (node: NodeName): number => {
    const channel = channels.findIndex((name) => node.endsWith(`@${name}`));
    return channel < 0 ? channels.length : channel;
  };
  return [...nodes]
    .filter((node) => node !== 'gnd')
    .toSorted((a, b) => place(a) - place(b))
    .map((node) => ({ kind: 'volts', nodes: [node, 'gnd'], meter }));
}

/** Hz of a quick run through the band: its ends, the playback curve's corners and between them. */
const curveHz: readonly number[] = [20, 50, 200, 1000, 2000, 5000, 10_000, 20_000];

/** Each channel's gain over frequencies. */
export function curveSpots(circuit: Circuit, frequencies: readonly number[] = curveHz): readonly Spot[] {
  return circuit.channels.flatMap((_, channel) => frequencies.map((hz): Spot => ({ kind: 'gain', channel, hz })));
}

/** The spot as another channel has it, by their numbers; a shared node stays where it is. */
export function twinSpot(spot: Spot, circuit: Circuit, from: number, to: number): Spot {
  const other = (channel: number): number => (channel === from ? to : channel === to ? from : channel);
  if ('channel' in spot) return { ...spot, channel: other(spot.channel) };
  const nameOf = (node: NodeName): NodeName => {
    const channel = circuit.channels.findIndex(({ name }) => node.endsWith(`@${name}`));
    return channel < 0 ? node : `${bareName(node)}@${circuit.channels[other(channel)]?.name ?? ''}`;
  };
  return { ...spot, nodes: [nameOf(spot.nodes[0]), nameOf(spot.nodes[1])] };
}
