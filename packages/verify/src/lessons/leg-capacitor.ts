import { withValue, type Capacitor } from '@curvewright/board';
import { nearestPreferred, preferredAbove } from '@curvewright/quantity';
import { cornerOf } from '../capacitor-corner.ts';
import type { Probe } from '../figure.ts';
import { settleAnswer } from '../settle.ts';
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
  /** Where the capacitor's reactance is that of all around it; null where it is nowhere. */
  readonly cornerHz: number | null;
  readonly at20HzDb: number;
  readonly gainDb: number;
}

/** dB at 20 Hz that nobody hears. */
export const little = 0.1;

/** Far below every corner but those of capacitors made a million times larger. */
const slowHz = 1e-3;
const vast = 1e6;

/** Null where the board has no such capacitor. */
export function legLesson(bench: LessonBench): LegLesson | null {
  const leg = legCapacitor(bench);
  if (leg === null) return null;
  const values = ladder(leg.farads).flatMap((farads) => legValue(bench, leg, farads) ?? []);
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

/** Seconds after switch-on until the taught output is at rest with this value; null where that takes longer than is computed. */
export function legSettling(bench: LessonBench, ref: string, farads: number): number | null {
  const other = otherwise(bench, withPart(bench.stage.circuit, ref, (part) => withValue(part, farads)));
  const settled = other === null ? null : settleAnswer(other.stage, { within: bench.limits.settle.within });
  return settled?.ok === true ? (settled.value.channels[taught]?.settleS ?? null) : null;
}

/** A decade down and a decade and a half up, by E6, with the drawn value itself. */
export function ladder(farads: number): readonly number[] {
  const last = nearestPreferred(farads * 30, 'E6');
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

function legValue(bench: LessonBench, { ref }: Capacitor, farads: number): LegValue | null {
  const other = otherwise(bench, withPart(bench.stage.circuit, ref, (part) => withValue(part, farads)));
  const part = other?.stage.circuit.parts.find((each) => each.ref === ref);
  if (other === null || part?.kind !== 'capacitor') return null;
  return {
    farads,
    deviationDb: deviationCurve(other),
    cornerHz: cornerOf(other.stage, part)?.hz ?? null,
    at20HzDb: other.reader.deviationDb(taught, 20),
    gainDb: other.reader.gainDb(taught, 1000),
  };
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
