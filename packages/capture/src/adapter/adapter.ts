import { shapingDb } from '../signal/shaping.ts';

/** Resistors in series, with capacitors across them all: one or two of each, in Ω and F. */
export interface Section {
  readonly resistors: readonly number[];
  readonly capacitors: readonly number[];
}

/**
 * A passive adapter from a line output to a phono input: what stands in series, then one resistor across the input. In series is a resistor (`flat`), or two
 * sections whose impedance falls with frequency as the playback curve does (`inverse_riaa`).
 */
export type Adapter =
  | { readonly shaping: 'flat'; readonly series: number; readonly across: number }
  | { readonly shaping: 'inverse_riaa'; readonly bass: Section; readonly treble: Section; readonly across: number };

/** What the adapter stands between, both in Ω. */
export interface Surroundings {
  /** The generator's own impedance. */
  readonly generator: number;
  /** What the phono input loads it with. */
  readonly load: number;
}

/** Gain in dB at a frequency in Hz, from the generator's open voltage to the phono input. */
export function adapterDb(adapter: Adapter, { generator, load }: Surroundings, hz: number): number {
  const across = 1 / (1 / adapter.across + 1 / load);
  const [re, im] = seriesImpedance(adapter, 2 * Math.PI * hz);
  return 20 * Math.log10(across / Math.hypot(generator + across + re, im));
}

/** How far an adapter lies off its curve at a frequency in Hz, dB re 1 kHz. */
export function adapterErrorDb(adapter: Adapter, surroundings: Surroundings, hz: number): number {
  const rise = adapterDb(adapter, surroundings, hz) - adapterDb(adapter, surroundings, 1000);
  return rise - shapingDb(adapter.shaping, hz);
}

function seriesImpedance(adapter: Adapter, w: number): readonly [number, number] {
  if (adapter.shaping === 'flat') return [adapter.series, 0];
  const [bass, treble] = [sectionImpedance(adapter.bass, w), sectionImpedance(adapter.treble, w)];
  return [bass[0] + treble[0], bass[1] + treble[1]];
}

function sectionImpedance({ resistors, capacitors }: Section, w: number): readonly [number, number] {
  const resistance = sum(resistors);
  const lag = w * resistance * sum(capacitors);
  const re = resistance / (1 + lag ** 2);
  return [re, -lag * re];
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
