import type { Limits } from '@curvewright/board';
import { logFrequencies, nominalFrequencies, targetDb } from '@curvewright/curves';
import { sheetFrequencies } from '../stage-sheet.ts';

/** The frequencies a spread is solved at, and where in them its questions lie. */
export interface Sweep {
  /** Hz, ascending. */
  readonly hz: Float64Array;
  readonly logHz: Float64Array;
  /** dB of the curve re 1 kHz. */
  readonly target: Float64Array;
  /** Index of 1 kHz. */
  readonly reference: number;
  /** Indices of the frequencies at which bands are told: the nominal third octaves from 2 Hz to 100 kHz and those of the sheet. */
  readonly told: readonly number[];
  /** Index of a frequency that a limit names. */
  at(hz: number): number;
}

/** Points per decade: with a parabola through three of them a peak of Q 2 is read to 0.02 dB, one of Q 4 to 0.05 dB. */
const density = 32;

export function sweepOf(limits: Limits): Sweep {
  const edges = Object.values(limits as unknown as Record<string, { from?: number; to?: number; at?: number }>).flatMap(
    ({ from, to, at }) => [from, to, at].filter((hz) => hz !== undefined),
  );
  const told = [...new Set([...nominalFrequencies(2, 100_000), ...sheetFrequencies])];
  const named = [...told, ...edges, 1000];
  const between = logFrequencies(Math.min(...named), Math.max(...named), density);
  const hz = Float64Array.from(new Set([...between, ...named])).sort();
  const at = (frequency: number): number => hz.indexOf(frequency);
  return {
    hz,
    logHz: hz.map(Math.log),
    target: hz.map((each) => targetDb('riaa', each)),
    reference: at(1000),
    told: told.toSorted((a, b) => a - b).map(at),
    at,
  };
}

/**
 * The highest point of `sign` × curve between two indices, ends included, times `sign`: a parabola through the highest point and its
 * neighbours, where it lies between two.
 */
export function extreme(curve: Float64Array, logHz: Float64Array, from: number, to: number, sign: 1 | -1): number {
  let best = from;
  for (let i = from + 1; i <= to; i++) if (sign * (curve[i]! - curve[best]!) > 0) best = i;
  const at = curve[best]!;
  if (best === from || best === to) return at;
  const [left, right] = [logHz[best - 1]! - logHz[best]!, logHz[best + 1]! - logHz[best]!];
  const [below, above] = [(curve[best - 1]! - at) / left, (curve[best + 1]! - at) / right];
  const bend = (above - below) / (right - left);
  const slope = below - bend * left;
  return bend === 0 ? at : at - (slope * slope) / (4 * bend);
}

/** The extreme that lies further from 0. */
export function furthest(curve: Float64Array, logHz: Float64Array, from: number, to: number): number {
  const high = extreme(curve, logHz, from, to, 1);
  const low = extreme(curve, logHz, from, to, -1);
  return Math.abs(low) > Math.abs(high) ? low : high;
}

/** Walking from `from` to `to` (either way), the frequency at which the curve falls through `level`; NaN where it does not. */
export function fallThrough(
  curve: Float64Array,
  { hz, logHz }: Sweep,
  level: number,
  from: number,
  to: number,
): number {
  const step = to > from ? 1 : -1;
  for (let i = from; i !== to; i += step) {
    const [inside, outside] = [curve[i]!, curve[i + step]!];
    if (inside < level || outside >= level) continue;
    const share = (inside - level) / (inside - outside);
    return hz[i]! * Math.exp(share * (logHz[i + step]! - logHz[i]!));
  }
  return NaN;
}
