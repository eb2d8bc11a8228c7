import type { PartType } from '../part-type.ts';
import {
  flag,
  jsonSchemaOf,
  list,
  plainNumber,
  positionKey,
  quantity,
  strict,
  table,
  text,
  version,
  type Field,
} from './fields.ts';
import { limits, type PartialLimits } from './limits-schema.ts';
import { leadOrder, partEntry, type PartEntry } from './part-schema.ts';
import { measured, path, readings, type Measured, type ReadingsEntry } from './readings-schema.ts';
import { fit, type FitEntry } from './fit-schema.ts';
import { pulled, type PulledEntry } from './swap-schema.ts';
import { suspecting, type Suspecting } from './suspecting-schema.ts';
import { types } from './type-schema.ts';

/** One entry under `positions`. */
export interface PositionEntry {
  readonly pulled?: PulledEntry;
  readonly fit?: FitEntry;
  readonly why?: string;
  /** How the part that stands there after the work goes in, whether fitted or put back. */
  readonly inserted?: string;
  readonly reversed?: boolean;
  /** The part that was pulled is still good: its joints were soldered, its contact cleaned or its track bridged. */
  readonly mended?: boolean;
  /** Paths as written. */
  readonly photos?: readonly string[];
}

/** A job file's content, values in SI units. */
export interface JobEntry {
  readonly job: 1;
  readonly title: string;
  /** Path of the board file, as written: relative to the job file. */
  readonly board: string;
  /** `made` is a year. */
  readonly unit?: { readonly model?: string; readonly serial?: string; readonly made?: number };
  readonly date?: string;
  readonly technician?: string;
  readonly complaint?: string;
  /** °C. */
  readonly ambient?: number;
  readonly positions?: Readonly<Record<string, PositionEntry>>;
  readonly added?: Readonly<Record<string, PartEntry>>;
  readonly types?: Readonly<Record<string, PartType>>;
  readonly reminders?: readonly string[];
  readonly photos?: readonly string[];
  readonly readings?: readonly ReadingsEntry[];
  readonly measured?: Measured;
  readonly limits?: PartialLimits;
  readonly suspecting?: Suspecting;
}

const position: Field<PositionEntry> = strict({
  pulled: pulled.exactOptional(),
  fit: fit.exactOptional(),
  why: text({
    description: 'Why it is replaced; without fit: why it is not',
    examples: ['reads 1 % high, left in'],
  }).exactOptional(),
  inserted: leadOrder.exactOptional(),
  reversed: flag({ description: 'The part goes in the wrong way round', examples: ['true'] }).exactOptional(),
  mended: flag({
    description: 'The joint is soldered, the contact cleaned or the track bridged, and the part itself left in',
    examples: ['true'],
  }).exactOptional(),
  photos: list(path('File of a photo', 'photos/c101.jpg'), {
    description: 'Photos of this position',
    examples: ['[photos/c101.jpg]'],
  }).exactOptional(),
}).meta({ description: 'What was pulled from a position and what is fitted there' });

/** A job file. */
export const jobSchema: Field<JobEntry> = strict({
  job: version('job'),
  title: text({ description: 'The job in a few words', examples: ['LK 417, pops in the right channel'] }),
  board: path('Path of the board file, from the folder of this file', '../boards/lk417.board.yaml'),
  unit: strict({
    model: text({ description: 'Model', examples: ['LK 417'] }).exactOptional(),
    serial: text({ description: 'Serial number', examples: ['0104417'] }).exactOptional(),
    made: plainNumber({ description: 'Year it was made', examples: ['1976'], positive: true }).exactOptional(),
  })
    .meta({ description: 'The unit on the bench' })
    .exactOptional(),
  date: text({ description: 'Date', examples: ['2026-03-01'] }).exactOptional(),
  technician: text({ description: 'Who does the work', examples: ['initials'] }).exactOptional(),
  complaint: text({
    description: 'What the owner reports',
    examples: ['intermittent pops, right louder'],
  }).exactOptional(),
  ambient: quantity('°C', { description: 'Temperature of every part', examples: ['25 °C'] }).exactOptional(),
  positions: table(positionKey, position, {
    description: 'Positions of the board: one designator for each channel, or a single one to override its pair',
  }).exactOptional(),
  added: table(positionKey, partEntry, { description: 'New parts, written as in a board file' }).exactOptional(),
  types: types.exactOptional(),
  reminders: list(text({ description: 'Reminder for reassembly', examples: ['four screws'] }), {
    description: 'Reminders for reassembly',
    examples: ['[four screws]'],
  }).exactOptional(),
  photos: list(path('File of a photo', 'photos/before.jpg'), {
    description: 'Photos of the job',
    examples: ['[photos/before.jpg]'],
  }).exactOptional(),
  readings: list(readings, {
    description: 'Meter readings and what is heard',
    examples: ['[{ state: found, volts: { e2@left: 1.1 V } }]'],
  }).exactOptional(),
  measured: measured.exactOptional(),
  limits: limits.exactOptional(),
  suspecting: suspecting.exactOptional(),
}).meta({ description: 'What was pulled, what is fitted, what was measured on one unit' });

/** The JSON Schema (draft 2020-12) of a job file. */
export function jobJsonSchema(): Record<string, unknown> {
  return { $schema: 'https://json-schema.org/draft/2020-12/schema', title: 'Job file', ...jsonSchemaOf(jobSchema) };
}
