import type { PartType } from '../part-type.ts';
import {
  choice,
  flag,
  hasKey,
  jsonSchemaOf,
  key,
  list,
  oneOf,
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
import { fit, pulled, type FitEntry, type PulledEntry } from './swap-schema.ts';
import { types } from './type-schema.ts';

/** What an ear can report. */
export const heardWords = [
  'popping',
  'hiss',
  'thin',
  'dull',
  'hum',
  'motorboating',
  'no sound',
  'weak',
  'distorted',
  'scratchy control',
] as const;
export type Heard = (typeof heardWords)[number];

/** A meter by its input resistance (Ω) and accuracy (fraction of the reading), or by its sensitivity (Ω/V) on a range (V), the accuracy then being of the range. */
export type Meter =
  | { readonly resistance: number; readonly accuracy: number }
  | { readonly sensitivity: number; readonly range: number; readonly accuracy: number };

/** One entry under `positions`. */
export interface PositionEntry {
  readonly pulled?: PulledEntry;
  readonly fit?: FitEntry;
  readonly why?: string;
  /** How the part that stands there after the work goes in, whether fitted or put back. */
  readonly inserted?: string;
  readonly reversed?: boolean;
}

/** One round with the meter and the ear. */
export interface ReadingsEntry {
  readonly state: 'found' | 'rebuilt';
  /** Absent: a meter that draws no current and makes no error. */
  readonly meter?: Meter;
  /** V by name: `Q101.collector`, `e2@left`, `Q101.base-Q101.emitter`. */
  readonly volts?: Readonly<Record<string, number>>;
  /** Ω between two names, power off. */
  readonly ohms?: Readonly<Record<string, number>>;
  /** Without a channel, no channel stands out. */
  readonly heard?: readonly { readonly what: Heard; readonly channel?: string }[];
}

/** Responses and recordings taken on the bench; paths as written. */
export interface Measured {
  readonly state: 'found' | 'rebuilt';
  /** Where the plug was: `board`, or another output in words. */
  readonly at: string;
  readonly response?: Readonly<Record<string, string>>;
  readonly recordings?: readonly string[];
  readonly loopback?: string | null;
  readonly adapter?: string | null;
}

/** A job file's content, values in SI units. */
export interface JobEntry {
  readonly job: 1;
  readonly title: string;
  /** Path of the board file, as written: relative to the job file. */
  readonly board: string;
  readonly unit?: { readonly model?: string; readonly serial?: string };
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
}

const measuredState: Field<'found' | 'rebuilt'> = choice(['found', 'rebuilt'], {
  description: 'State of the board when this was measured',
});

const accuracy = (of: string): Field<number> =>
  quantity('%', { description: `Accuracy, of the ${of}`, examples: ['1 %'], notNegative: true });

const meter: Field<Meter> = oneOf<Meter>(
  [
    {
      fits: hasKey('sensitivity'),
      schema: strict({
        sensitivity: quantity('Ω/V', { description: 'Sensitivity', examples: ['20 kΩ/V'], positive: true }),
        range: quantity('V', { description: 'Range it is switched to', examples: ['10 V'], positive: true }),
        accuracy: accuracy('range'),
      }),
    },
    {
      fits: hasKey('resistance'),
      schema: strict({
        resistance: quantity('Ω', { description: 'Input resistance', examples: ['10 MΩ'], positive: true }),
        accuracy: accuracy('reading'),
      }),
    },
  ],
  {
    description: 'The meter the readings were taken with',
    examples: ['{ resistance: 10 MΩ, accuracy: 1 % }', '{ sensitivity: 20 kΩ/V, range: 10 V, accuracy: 3 % }'],
  },
);

const spotKey = key(/^\S.*$/, 'wrong-form', {
  description: 'A node, a lead, or two of them with - between: the first minus the second',
  examples: ['Q101.collector', 'e2@left', 'Q101.base-Q101.emitter'],
});

const path = (description: string, example: string): Field<string> => text({ description, examples: [example] });

const readings: Field<ReadingsEntry> = strict({
  state: measuredState,
  meter: meter.exactOptional(),
  volts: table(spotKey, quantity('V', { description: 'Voltage', examples: ['2.41 V'] }), {
    description: 'Voltages against gnd, or between two names',
  }).exactOptional(),
  ohms: table(spotKey, quantity('Ω', { description: 'Resistance', examples: ['4.7 kΩ'], notNegative: true }), {
    description: 'Resistances between two names, power off',
  }).exactOptional(),
  heard: list(
    strict({
      what: choice(heardWords, { description: 'What is heard' }),
      channel: text({ description: 'Channel it is heard in', examples: ['right'] }).exactOptional(),
    }),
    { description: 'What is heard', examples: ['[{ what: popping, channel: right }]'] },
  ).exactOptional(),
}).meta({ description: 'One round with the meter and the ear' });

const channelKey = key(/^\S+$/, 'wrong-form', { description: 'Name of a channel', examples: ['left'] });

const measured: Field<Measured> = strict({
  state: measuredState,
  at: text({ description: 'Where the plug was: board, or another output in words', examples: ['board'] }),
  response: table(channelKey, path('File of the response', 'left.csv'), {
    description: 'Measured response of each channel',
  }).exactOptional(),
  recordings: list(path('File of a recording', 'sweep.wav'), {
    description: 'Recordings',
    examples: ['[sweep.wav]'],
  }).exactOptional(),
  loopback: path('Recording of the measuring set alone', 'loopback.wav').nullable().exactOptional(),
  adapter: path('Board file of the adapter before the input', 'adapter.board.yaml').nullable().exactOptional(),
}).meta({ description: 'Measured responses and recordings' });

const position: Field<PositionEntry> = strict({
  pulled: pulled.exactOptional(),
  fit: fit.exactOptional(),
  why: text({
    description: 'Why it is replaced; without fit: why it is not',
    examples: ['reads 1 % high, left in'],
  }).exactOptional(),
  inserted: leadOrder.exactOptional(),
  reversed: flag({ description: 'The part goes in the wrong way round', examples: ['true'] }).exactOptional(),
}).meta({ description: 'What was pulled from a position and what is fitted there' });

/** A job file. */
export const jobSchema: Field<JobEntry> = strict({
  job: version('job'),
  title: text({ description: 'The job in a few words', examples: ['LK 417, pops in the right channel'] }),
  board: path('Path of the board file, from the folder of this file', '../boards/lk417.board.yaml'),
  unit: strict({
    model: text({ description: 'Model', examples: ['LK 417'] }).exactOptional(),
    serial: text({ description: 'Serial number', examples: ['0104417'] }).exactOptional(),
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
}).meta({ description: 'What was pulled, what is fitted, what was measured on one unit' });

/** The JSON Schema (draft 2020-12) of a job file. */
export function jobJsonSchema(): Record<string, unknown> {
  return { $schema: 'https://json-schema.org/draft/2020-12/schema', title: 'Job file', ...jsonSchemaOf(jobSchema) };
}
