import type { Board } from './board.ts';
import type { NodeName, Part } from './circuit.ts';
import type { Place } from './diagnostics.ts';
import type { Fault } from './fault.ts';
import type { PartType } from './part-type.ts';
import type { JobEntry, PositionEntry } from './schema/job-schema.ts';
import type { Heard, Meter } from './schema/readings-schema.ts';
import type { Limits } from './schema/limits-schema.ts';

/** The three states of a board that can be computed. */
export type State = 'drawn' | 'found' | 'rebuilt';

/** A job joined with its board: every position known, every part built, every reading's nodes found. */
export interface Job {
  /** All that the job file says, in SI units. */
  readonly entry: JobEntry;
  readonly board: Board;
  /** Every part of the drawing with what the job does to it, in the board's order. */
  readonly positions: readonly JobPosition[];
  /** New parts, which belong to the rebuilt state. */
  readonly added: readonly Part[];
  /** The board's types with the job's laid over them. */
  readonly types: Readonly<Record<string, PartType>>;
  readonly readings: readonly Readings[];
  /** Defaults, then the board's, then the job's. */
  readonly limits: Limits;
  /** Kelvin. */
  readonly ambient: number;
}

/** One designator of the drawing. */
export interface JobPosition {
  readonly drawn: Part;
  /** What stood there when the unit came in; absent where the job does not say. */
  readonly pulled?: Standing;
  /** What is put there, fitted, put back otherwise or mended; absent where the place is left as it was. */
  readonly fitted?: Standing;
  /** What the job writes for this designator, its own key over its pair's; absent where the job is silent. */
  readonly entry?: PositionEntry;
}

/** The parts that stand in a position, with what is wrong there, and what the job says of them that no computation takes up. */
export interface Standing {
  /** As they are without `faults`. */
  readonly parts: readonly Part[];
  /** Of the only part, which then carries the position's designator. */
  readonly faults: readonly Fault[];
  readonly notes: readonly string[];
}

/** A meter reading between two nodes: the first minus the second for V; V or Ω. */
export interface MeterReading {
  /** As written. */
  readonly name: string;
  readonly nodes: readonly [NodeName, NodeName];
  readonly value: number;
  readonly place: Place;
}

/** One round with the meter and the ear. */
export interface Readings {
  readonly state: 'found' | 'rebuilt';
  /** s since switch-on. */
  readonly onFor?: number;
  /** Absent: a meter that draws no current and makes no error. */
  readonly meter?: Meter;
  readonly volts: readonly MeterReading[];
  /** Power off. */
  readonly ohms: readonly MeterReading[];
  /** By channel: V referred to the input, A-weighted; dB re the programme; pops a minute. */
  readonly hiss?: Readonly<Record<string, number>>;
  readonly hum?: Readonly<Record<string, number>>;
  readonly pops?: Readonly<Record<string, number>>;
  /** Without a channel, no channel stands out. */
  readonly heard: readonly { readonly what: Heard; readonly channel?: string }[];
}
