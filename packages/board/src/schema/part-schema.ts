import { readQuantity } from '@curvewright/quantity';
import type { z } from 'zod';
import { suggestion } from '../nearest.ts';
import {
  addFault,
  choice,
  field,
  figureAt,
  hasKey,
  isKind,
  isList,
  isMap,
  isText,
  list,
  matching,
  nameKey,
  node,
  oneOf,
  plainNumber,
  quantity,
  shown,
  strict,
  table,
  text,
  tolerance,
  type Field,
} from './fields.ts';

/** How capacitors are built; the words stand in files as they stand here. */
export const capacitorBuilds: readonly string[] = [
  'film',
  'polystyrene',
  'mica',
  'ceramic1',
  'ceramic2',
  'aluminium',
  'aluminium_bipolar',
  'tantalum',
];

/** How resistors are built. */
export const resistorBuilds: readonly string[] = ['carbon_composition', 'carbon_film', 'metal_film', 'wirewound'];

/** The lead names a part with a type may have, of all kinds of type. */
export const leadNames: readonly string[] = [
  ...['collector', 'base', 'emitter'],
  ...['anode', 'cathode', 'grid'],
  ...['drain', 'gate', 'source'],
  ...['plus', 'minus', 'out'],
];

/** The holes and the room on the board; lengths in metres. */
export interface Seat {
  /** Lead letters left to right, from the component side with the printed flat towards the reader. */
  readonly holes?: string;
  /** The pitches that fit. */
  readonly pitch?: readonly number[];
  readonly height?: number;
  readonly diameter?: number;
}

/** The size of a part, in metres. */
export interface BodySize {
  readonly pitch?: number;
  readonly height?: number;
  readonly diameter?: number;
}

/** A leakage as written: Ω across the leads, or A at the rated volts. */
export type Leakage = { readonly ohms: number } | { readonly amps: number };

interface EntryCommon {
  readonly seat?: Seat;
  readonly body?: BodySize;
}

interface ValuedEntry extends EntryCommon {
  readonly value: number;
  readonly tolerance?: { readonly minus: number; readonly plus: number };
}

export interface ResistorEntry extends ValuedEntry {
  readonly kind: 'resistor';
  readonly build?: string;
  readonly rated?: number;
  readonly noise_index?: number;
  readonly between: readonly string[];
}

export interface CapacitorEntry extends ValuedEntry {
  readonly kind: 'capacitor';
  readonly build?: string;
  readonly rated?: number;
  readonly esr?: { readonly value: number; readonly at?: number };
  readonly leakage?: Leakage;
  readonly loss?: number;
  /** Either `plus` and `minus`, or `between`. */
  readonly plus?: string;
  readonly minus?: string;
  readonly between?: readonly string[];
}

export interface InductorEntry extends ValuedEntry {
  readonly kind: 'inductor';
  readonly resistance?: number;
  readonly between: readonly string[];
}

export interface TrimmerEntry extends ValuedEntry {
  readonly kind: 'trimmer';
  readonly rated?: number;
  readonly turn: number;
  readonly between: readonly string[];
  readonly wiper?: string;
}

export interface SwitchEntry extends EntryCommon {
  readonly kind: 'switch';
  readonly pole: string;
  readonly positions: Readonly<Record<string, string>>;
  readonly at: string;
}

export interface TypedEntry extends EntryCommon {
  readonly type: string;
  readonly rails?: readonly string[];
  /** The node of each lead written, of those in `leadNames`. */
  readonly leads: Readonly<Record<string, string>>;
}

/** A part as written under `parts:` or `added:`, values in SI units, nodes as spelled. */
export type PartEntry = ResistorEntry | CapacitorEntry | InductorEntry | TrimmerEntry | SwitchEntry | TypedEntry;

const length = (description: string, example: string): Field<number> =>
  quantity('m', { description, examples: [example], positive: true });

const pitches: Field<readonly number[]> = oneOf<readonly number[]>(
  [
    { fits: isText, schema: length('Distance between the holes', '5 mm').transform((value) => [value]) },
    {
      fits: isList,
      schema: list(length('Distance between two holes', '5 mm'), {
        description: 'Distances between holes that fit',
        examples: ['[5 mm, 7.5 mm]'],
        least: 1,
      }),
    },
  ],
  { description: 'Distance between the holes, or a list of those that fit', examples: ['5 mm', '[5 mm, 7.5 mm]'] },
);

/** Lead letters in the order of the holes or of the case. */
export const leadOrder: Field<string> = matching(/^[A-Z]{2,8}$/, 'wrong-form', {
  description: 'Lead letters in order: E B C, D G S, A K, A G K',
  examples: ['ECB'],
});

export const seat: Field<Seat> = strict({
  holes: leadOrder.exactOptional(),
  pitch: pitches.exactOptional(),
  height: length('Room above the board', '12 mm').exactOptional(),
  diameter: length('Room for the diameter', '8 mm').exactOptional(),
}).meta({ description: 'The holes and the room on the board' });

export const body: Field<BodySize> = strict({
  pitch: length('Distance between the leads', '5 mm').exactOptional(),
  height: length('Height', '9 mm').exactOptional(),
  diameter: length('Diameter, or the longer side', '8 mm').exactOptional(),
}).meta({ description: 'The size of the part' });

const kind = <const K extends string>(name: K): Field<K> => choice([name], { description: 'Kind of part' });

const between: Field<readonly string[]> = list(node('Node of a lead'), {
  description: 'The nodes of the two leads',
  examples: ['[in, gnd]'],
  least: 2,
  most: 2,
});

const common = { seat: seat.exactOptional(), body: body.exactOptional() };

const resistor = strict({
  kind: kind('resistor'),
  build: choice(resistorBuilds, { description: 'How it is built', examples: ['carbon_film'] }).exactOptional(),
  value: quantity('Ω', { description: 'Resistance', examples: ['47 kΩ', '4k7'], notNegative: true }),
  tolerance: tolerance().exactOptional(),
  rated: quantity('W', { description: 'Rated power', examples: ['0.25 W'], positive: true }).exactOptional(),
  noise_index: quantity('dB', { description: 'Excess noise (IEC 60195)', examples: ['-10 dB'] }).exactOptional(),
  between,
  ...common,
});

/** Ω, or Ω stated at a frequency. */
export const esr: Field<{ readonly value: number; readonly at?: number }> = oneOf<{ value: number; at?: number }>(
  [
    {
      fits: isText,
      schema: quantity('Ω', {
        description: 'Equivalent series resistance',
        examples: ['4 Ω'],
        notNegative: true,
      }).transform((value) => ({ value })),
    },
    {
      fits: isMap,
      schema: figureAt('Ω', 'Hz', {
        description: 'Equivalent series resistance at a frequency',
        examples: ['4 Ω'],
        notNegative: true,
        at: { description: 'Frequency of the reading', examples: ['100 kHz'] },
      }),
    },
  ],
  { description: 'Equivalent series resistance', examples: ['4 Ω', '{ value: 4 Ω, at: 100 kHz }'] },
);

/** A resistance, or a current at the rated volts. */
export const leakage: Field<Leakage> = field<Leakage>(
  {
    type: 'string',
    description: 'Resistance across the leads, or current at the rated volts [Ω or A]',
    examples: ['20 MΩ', '0.5 µA'],
  },
  (input) => {
    if (typeof input === 'object') return { code: 'wrong-form', message: 'needs one value; write 20 MΩ or 0.5 µA' };
    const ohms = readQuantity(input, 'Ω');
    const reading = !ohms.ok && ohms.fault === 'wrong-unit' ? readQuantity(input, 'A') : ohms;
    if (!reading.ok) return { code: reading.fault, message: reading.message };
    if (reading.value <= 0)
      return {
        code: 'out-of-range',
        message: `${String(input)} cannot be; write a value above 0, or leave the key out`,
      };
    return { value: ohms.ok ? { ohms: reading.value } : { amps: reading.value } };
  },
);

/** The leakage in Ω; null where a current is stated and the rated volts are not. */
export function leakageOhms(stated: Leakage, ratedVolts: number | undefined): number | null {
  if ('ohms' in stated) return stated.ohms;
  return ratedVolts === undefined ? null : ratedVolts / stated.amps;
}

const capacitorFigures = {
  kind: kind('capacitor'),
  build: choice(capacitorBuilds, { description: 'How it is built', examples: ['film'] }).exactOptional(),
  value: quantity('F', { description: 'Capacitance', examples: ['0.68 µF', '330n'], positive: true }),
  tolerance: tolerance().exactOptional(),
  rated: quantity('V', { description: 'Rated voltage', examples: ['35 V'], positive: true }).exactOptional(),
  esr: esr.exactOptional(),
  leakage: leakage.exactOptional(),
  loss: plainNumber({ description: 'Loss factor tan δ', examples: ['0.04'], notNegative: true }).exactOptional(),
  ...common,
};

const capacitor: Field<CapacitorEntry> = oneOf<CapacitorEntry>(
  [
    { fits: hasKey('between'), schema: strict({ ...capacitorFigures, between }) },
    {
      fits: isMap,
      schema: strict({
        ...capacitorFigures,
        plus: node('Node of the plus lead'),
        minus: node('Node of the minus lead'),
      }),
    },
  ],
  { description: 'Capacitor: with plus and minus, or between two nodes' },
);

const inductor = strict({
  kind: kind('inductor'),
  value: quantity('H', { description: 'Inductance', examples: ['10 mH'], positive: true }),
  tolerance: tolerance().exactOptional(),
  resistance: quantity('Ω', {
    description: 'Resistance of the winding',
    examples: ['3 Ω'],
    notNegative: true,
  }).exactOptional(),
  between,
  ...common,
});

/** Where a trimmer stands, as a fraction of its track. */
export const turn: Field<number> = quantity('%', {
  description: 'Where the wiper stands, from the first node of between',
  examples: ['40 %'],
  notNegative: true,
}).superRefine((fraction, context) => {
  if (fraction > 1) {
    const message = `${fraction * 100} % is past the end of the track; write at most 100 %`;
    addFault(context, { code: 'out-of-range', message });
  }
});

const trimmer = strict({
  kind: kind('trimmer'),
  value: quantity('Ω', { description: 'Resistance of the whole track', examples: ['10 kΩ'], positive: true }),
  tolerance: tolerance().exactOptional(),
  rated: quantity('W', { description: 'Rated power', examples: ['0.1 W'], positive: true }).exactOptional(),
  turn,
  between,
  wiper: node('Node of the wiper; without it the trimmer is a variable resistor between its two nodes').exactOptional(),
  ...common,
});

const switchEntry = strict({
  kind: kind('switch'),
  pole: node('Node of the moving contact'),
  positions: table(nameKey, node('Node of this position'), { description: 'Node of each position by its name' }),
  at: text({ description: 'Position it stands in', examples: ['riaa'] }),
  ...common,
}).superRefine((entry, context) => {
  if (Object.hasOwn(entry.positions, entry.at)) return;
  const message = `${shown(entry.at)} is none of its positions; write one of ${Object.keys(entry.positions).join(', ')}`;
  addFault(context, { code: 'wrong-form', message }, ['at']);
});

const lead = (of: string): z.ZodExactOptional<Field<string>> => node(`Node of the ${of}`).exactOptional();

const typed = strict({
  type: text({ description: 'Name of its type', examples: ['HN-A'] }),
  collector: lead('collector'),
  base: lead('base'),
  emitter: lead('emitter'),
  anode: lead('anode'),
  cathode: lead('cathode'),
  grid: lead('grid'),
  drain: lead('drain'),
  gate: lead('gate'),
  source: lead('source'),
  plus: lead('non-inverting input'),
  minus: lead('inverting input'),
  out: lead('output'),
  rails: list(node('Node of a supply'), {
    description: 'Positive and negative supply nodes of an op-amp; without them its output has no limits',
    examples: ['[vcc, vee]'],
    least: 2,
    most: 2,
  }).exactOptional(),
  ...common,
}).transform(({ type, rails, seat, body, ...leads }): TypedEntry => ({
  type,
  leads,
  ...(rails === undefined ? {} : { rails }),
  ...(seat === undefined ? {} : { seat }),
  ...(body === undefined ? {} : { body }),
}));

const kinds = ['resistor', 'capacitor', 'inductor', 'trimmer', 'switch'];

/** A part as written under `parts:` or `added:`. */
export const partEntry: Field<PartEntry> = oneOf<PartEntry>(
  [
    { fits: isKind('resistor'), schema: resistor },
    { fits: isKind('capacitor'), schema: capacitor },
    { fits: isKind('inductor'), schema: inductor },
    { fits: isKind('trimmer'), schema: trimmer },
    { fits: isKind('switch'), schema: switchEntry },
    { fits: hasKey('type'), schema: typed },
  ],
  { description: 'A part', examples: ['{ kind: resistor, value: 47 kΩ, between: [in, gnd] }'] },
  (input) => {
    if (!isMap(input))
      return {
        code: 'wrong-form',
        message: 'needs keys and values; write { kind: …, value: …, between: [a, b] }',
        path: [],
      };
    if (input['kind'] === undefined)
      return {
        code: 'missing-key',
        message: `is missing; write kind: ${kinds.join(', ')}, or type: NAME`,
        path: ['kind'],
      };
    const message = `${shown(String(input['kind']))} is no kind of part; ${suggestion(String(input['kind']), kinds)}`;
    return { code: 'wrong-form', message, path: ['kind'] };
  },
);
