import { agePart, type Circuit, type Limits, type Part } from '@curvewright/board';
import { logFrequencies } from '@curvewright/curves';
import type { Probe } from '../figure.ts';
import { gainReader } from '../gain-reader.ts';
import { solveStage, varyStage } from '../stage.ts';

/** A drawn board on which a lesson is given; lessons speak of its first channel. */
export interface LessonBench extends Probe {
  readonly limits: Limits;
}

export const taught = 0;

/** Hz of the curves that lessons draw, ascending; 20 Hz and 1 kHz among them. */
export const lessonHz: Float64Array = Float64Array.from(new Set([...logFrequencies(2, 100_000, 30), 20, 1000])).sort();

/** The parts of the channel that is taught and those that it shares. */
export function taughtParts({ stage: { circuit } }: Probe): readonly Part[] {
  const channel = circuit.channels[taught]?.name;
  return circuit.parts.filter((part) => part.channel === null || part.channel === channel);
}

/** The board with other values or types; its nodes stay. Null without a bias. */
export function otherwise(bench: Probe, circuit: Circuit): Probe | null {
  const stage = varyStage(bench.stage, circuit);
  return stage === null ? null : { stage, reader: gainReader(stage) };
}

/** The board with another shape: parts more, fewer or elsewhere. Null without a bias. */
export function rebuilt({ stage }: Probe, circuit: Circuit): Probe | null {
  const solved = solveStage(circuit, stage.source);
  return solved.ok ? { stage: solved.value, reader: gainReader(solved.value) } : null;
}

export function withPart(circuit: Circuit, ref: string, change: (part: Part) => Part): Circuit {
  return { ...circuit, parts: circuit.parts.map((part) => (part.ref === ref ? change(part) : part)) };
}

/** The board without one part. */
export function withoutPart(bench: Probe, ref: string): Probe | null {
  return rebuilt(bench, agePart(bench.stage.circuit, ref, { kind: 'open' }));
}

/** Deviation of the taught channel over `lessonHz`, dB. */
export function deviationCurve({ reader }: Probe): Float64Array {
  return lessonHz.map((hz) => reader.deviationDb(taught, hz));
}
