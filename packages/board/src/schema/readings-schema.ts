import {
  choice,
  hasKey,
  key,
  list,
  matching,
  oneOf,
  plainNumber,
  quantity,
  strict,
  table,
  text,
  type Field,
} from './fields.ts';

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

/** One round with the meter and the ear. */
export interface ReadingsEntry {
  readonly state: 'found' | 'rebuilt';
  /** s since switch-on. */
  readonly on_for?: number;
  /** Absent: a meter that draws no current and makes no error. */
  readonly meter?: Meter;
  /** V by name: `Q101.collector`, `e2@left`, `Q101.base-Q101.emitter`. */
  readonly volts?: Readonly<Record<string, number>>;
  /** Ω between two names, power off. */
  readonly ohms?: Readonly<Record<string, number>>;
  /** V referred to the input, A-weighted, input shorted, by channel. */
  readonly hiss?: Readonly<Record<string, number>>;
  /** dB re the 5 mV programme, by channel. */
  readonly hum?: Readonly<Record<string, number>>;
  /** Pops a minute with nothing playing, by channel. */
  readonly pops?: Readonly<Record<string, number>>;
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
  /** What lies between the board and the plug: a board file. */
  readonly chain?: string | null;
  /** The signal's plan that the recordings are of. */
  readonly signal?: string;
  readonly shorted?: string | null;
  /** V rms at the board's input at 1 kHz of the signal. */
  readonly level?: number;
  /** V rms of a sine that is full scale to the recorder. */
  readonly recorder?: number;
}

/** A file's path, from the folder of the job. */
export function path(description: string, example: string): Field<string> {
  return text({ description, examples: [example] });
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

const channelKey = key(/^\S+$/, 'wrong-form', { description: 'Name of a channel', examples: ['left'] });

/** Seconds that a time of the bench's clock is. */
const clock: Readonly<Record<string, number>> = { s: 1, min: 60, h: 3600 };

const onFor: Field<number> = matching(/^\d+(\.\d+)? ?(s|min|h)$/, 'not-a-quantity', {
  description: 'Time since switch-on; a second round after an hour shows what warmth moves',
  examples: ['60 min', '1 h'],
}).transform((time) => Number.parseFloat(time) * (clock[/[a-z]+$/.exec(time)?.[0] ?? 's'] ?? 1));

/** One round with the meter and the ear. */
export const readings: Field<ReadingsEntry> = strict({
  state: measuredState,
  on_for: onFor.exactOptional(),
  meter: meter.exactOptional(),
  volts: table(spotKey, quantity('V', { description: 'Voltage', examples: ['2.41 V'] }), {
    description: 'Voltages against gnd, or between two names',
  }).exactOptional(),
  ohms: table(spotKey, quantity('Ω', { description: 'Resistance', examples: ['4.7 kΩ'], notNegative: true }), {
    description: 'Resistances between two names, power off',
  }).exactOptional(),
  hiss: table(channelKey, quantity('V', { description: 'Hiss', examples: ['0.9 µV'], positive: true }), {
    description: 'Hiss of each channel at the input, A-weighted, input shorted',
  }).exactOptional(),
  hum: table(channelKey, quantity('dB', { description: 'Hum', examples: ['-62 dB'] }), {
    description: 'Hum of each channel re 5 mV programme at the input',
  }).exactOptional(),
  pops: table(channelKey, plainNumber({ description: 'Pops a minute', examples: ['12'], notNegative: true }), {
    description: 'Pops of each channel a minute with nothing playing',
  }).exactOptional(),
  heard: list(
    strict({
      what: choice(heardWords, { description: 'What is heard' }),
      channel: text({ description: 'Channel it is heard in', examples: ['right'] }).exactOptional(),
    }),
    { description: 'What is heard', examples: ['[{ what: popping, channel: right }]'] },
  ).exactOptional(),
}).meta({ description: 'One round with the meter and the ear' });

/** Responses and recordings taken on the bench. */
export const measured: Field<Measured> = strict({
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
  chain: path('Board file of what lies between the board and the plug', 'tape-out.board.yaml')
    .nullable()
    .exactOptional(),
  signal: path('Plan of the test signal that the recordings are of', 'test-signal.signal.json').exactOptional(),
  shorted: path('Recording with nothing played and the input shorted', 'shorted.wav').nullable().exactOptional(),
  level: quantity('V', {
    description: "At the board's input at 1 kHz of the signal, rms",
    examples: ['5 mV'],
    positive: true,
  }).exactOptional(),
  recorder: quantity('V', {
    description: 'Full scale of the recorder, as rms of a sine',
    examples: ['1 V'],
    positive: true,
  }).exactOptional(),
}).meta({ description: 'Measured responses and recordings' });
