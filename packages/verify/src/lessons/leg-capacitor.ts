import { withValue, type Capacitor } from '@curvewright/board';
import { nearestPreferred, preferredAbove } from '@curvewright/quantity';
import { compileNetwork, naturalModes, solveBias } from '@curvewright/network';
import type { Probe } from '../figure.ts';
import { firstFallThrough } from '../search-curve.ts';
import { deviationCurve, otherwise, taught, withPart, type LessonBench } from './lesson-bench.ts';
import { couplingCapacitors, legCapacitor } from './roles.ts';

/** One capacitor, two jobs: it lets the signal to the low gain's leg, and keeps DC from it. */
export interface LegLesson {
  readonly ref: string;
  readonly farads: number;
  /** A drift of the first stage comes out this many times larger; and if the capacitor were a wire. */
  readonly dcGain: number;
  readonly dcGainShorted: number;
  readonly gain20Hz: number;
  /** Preferred values about the drawn one, ascending. */
  readonly values: readonly LegValue[];
  /** Index of the drawn value, of the one that is asked for, of the smallest from which more brings less than `little` at 20 Hz. */
  readonly drawn: number;
  readonly asked: number;
  readonly enough: number;
}

export interface LegValue {
  readonly farads: number;
  readonly deviationDb: Float64Array;
  /** Highest frequency at which it costs 3 dB against a capacitor that lets everything through; null where that is below 0.05 Hz. */
  readonly cornerHz: number | null;
  /** s in which what is left of a jump falls to 37 %, of the slowest of all; null where the board has no such answer. */
  readonly slowestS: number | null;
  readonly at20HzDb: number;
  readonly gainDb: number;
}

/** dB at 20 Hz that nobody hears. */
export const little = 0.1;

/** Far below every corner but those of capacitors made a million times larger. */
const slowHz = 1e-3;
const vast = 1e6;

const lowestCorner = 0.05;

/** Null where the board has no such capacitor. */
export function legLesson(bench: LessonBench): LegLesson | null {
  const leg = legCapacitor(bench);
  if (leg === null) return null;
  const vastLeg = otherwise(
    bench,
    withPart(bench.stage.circuit, leg.ref, (part) => withValue(part, leg.farads * vast)),
  );
  if (vastLeg === null) return null;
  const values = ladder(leg.farads).flatMap((farads) => legValue(bench, vastLeg, leg.ref, farads) ?? []);
  const nearest = (farads: number): number =>
    values.reduce((best, each, n) => (distance(each, farads) < distance(values[best], farads) ? n : best), 0);
  const last = values.at(-1)?.at20HzDb ?? NaN;
  return {
    ref: leg.ref,
    farads: leg.farads,
    dcGain: slowGain(bench, leg, 1) ?? NaN,
    dcGainShorted: slowGain(bench, leg, vast) ?? NaN,
    gain20Hz: 10 ** (bench.reader.gainDb(taught, 20) / 20),
    values,
    drawn: nearest(leg.farads),
    asked: nearest(leg.farads / 4),
    enough: values.findIndex(({ at20HzDb }) => Math.abs(last - at20HzDb) < little),
  };
}

/** A decade down and somewhat more up, by E6, with the drawn value itself. */
export function ladder(farads: number): readonly number[] {
  const last = nearestPreferred(farads * 15, 'E6');
  const values: number[] = [];
  const above = (from: number): number => preferredAbove(from * (1 + 1e-6), 'E6');
  for (let at = nearestPreferred(farads / 10, 'E6'); at < last * (1 + 1e-6); at = above(at)) values.push(at);
  return values.some((value) => Math.abs(value / farads - 1) < 1e-6)
    ? values
    : [...values, farads].sort((a, b) => a - b);
}

function distance(value: LegValue | undefined, farads: number): number {
  return value === undefined ? Infinity : Math.abs(Math.log(value.farads / farads));
}

function legValue(bench: LessonBench, vastLeg: Probe, ref: string, farads: number): LegValue | null {
  const other = otherwise(
    bench,
    withPart(bench.stage.circuit, ref, (part) => withValue(part, farads)),
  );
  if (other === null) return null;
  const loss = (hz: number): number => other.reader.gainDb(taught, hz) - vastLeg.reader.gainDb(taught, hz);
  return {
    farads,
    deviationDb: deviationCurve(other),
    cornerHz: firstFallThrough(loss, -3, 1000, lowestCorner),
    slowestS: slowestTime(other),
    at20HzDb: other.reader.deviationDb(taught, 20),
    gainDb: other.reader.gainDb(taught, 1000),
  };
}

/** The time constant of the slowest natural mode, loss factors as series resistances. */
function slowestTime({ stage }: Probe): number | null {
  const network = compileNetwork(stage.circuit, stage.source, { loss: 'series' });
  const bias = solveBias(network);
  const modes = bias.ok ? naturalModes(network, bias.point) : null;
  return modes === null ? null : Math.max(...modes.poles.map(({ re }) => -1 / re));
}

/** The gain for what changes slowly, with coupling capacitors that pass even that, and the leg's this many times larger. */
function slowGain(bench: Probe, leg: Capacitor, times: number): number | null {
  const factors = new Map(couplingCapacitors(bench).map(({ ref }) => [ref, vast]));
  factors.set(leg.ref, times);
  const { circuit } = bench.stage;
  const parts = circuit.parts.map((part) => {
    const factor = factors.get(part.ref);
    return factor === undefined || part.kind !== 'capacitor' ? part : { ...part, farads: part.farads * factor };
  });
  const slow = otherwise(bench, { ...circuit, parts });
  return slow === null ? null : 10 ** (slow.reader.gainDb(taught, slowHz) / 20);
}
