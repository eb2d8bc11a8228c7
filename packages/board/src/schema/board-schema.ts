import type { PartType } from '../part-type.ts';
import {
  addFault,
  alikeParts,
  jsonSchemaOf,
  key,
  list,
  matching,
  node,
  nameKey,
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
import { partEntry, type PartEntry } from './part-schema.ts';
import { types } from './type-schema.ts';

/** A supply as written under `rails:`; V, Ω, V rms, Hz. */
export interface RailEntry {
  readonly volts: number;
  readonly resistance?: number;
  readonly ripple?: number;
  readonly ripple_frequency?: number;
  readonly harmonics?: readonly number[];
}

/** A cartridge and its cable; Ω, H, F, V rms at the reference level. */
export interface Cartridge {
  readonly resistance: number;
  readonly inductance: number;
  readonly cable?: number;
  readonly output?: number;
}

/** A board file as written: values in SI units, nodes and designators as spelled. */
export interface BoardFile {
  readonly board: 1;
  readonly title: string;
  readonly channels?: readonly string[];
  readonly common?: readonly string[];
  readonly rails?: Readonly<Record<string, RailEntry>>;
  readonly input: { readonly node: string };
  readonly output: {
    readonly node: string;
    readonly load?: { readonly resistance?: number; readonly capacitance?: number };
  };
  /** A lead at which the feedback loop is looked into, of any channel; `Q103.base`. */
  readonly loop?: { readonly lead: string };
  /** Parts that were picked alike, of both channels or of one: `Q101/Q102`. */
  readonly matched?: readonly string[];
  /** Where parts stand on the drawing of the stage: squares right of and below the input terminal. */
  readonly drawing?: Readonly<Record<string, readonly number[]>>;
  readonly parts: Readonly<Record<string, PartEntry>>;
  readonly types?: Readonly<Record<string, PartType>>;
  readonly cartridges?: Readonly<Record<string, Cartridge>>;
  readonly limits?: PartialLimits;
}

const channels = list(
  matching(/^[A-Za-z][A-Za-z0-9_]*$/, 'wrong-form', { description: 'Name of a channel', examples: ['left'] }),
  { description: 'The channels in the order of the pair designators', examples: ['[left, right]'], least: 1, most: 8 },
).superRefine((names, context) => {
  names.forEach((name, index) => {
    if (names.indexOf(name) < index)
      addFault(context, { code: 'wrong-form', message: `names ${name} twice; write each channel once` }, [index]);
  });
});

const sharedKey = key(/^(?!gnd$)[A-Za-z0-9_]+$/, 'wrong-form', {
  description: 'Node on the board side of the supply; gnd is none',
  examples: ['vcc'],
});

const rail: Field<RailEntry> = strict({
  volts: quantity('V', { description: 'Voltage of the supply', examples: ['31 V'] }),
  resistance: quantity('Ω', {
    description: 'Between the ideal supply and the node; silent: 0',
    examples: ['1 Ω'],
    notNegative: true,
  }).exactOptional(),
  ripple: quantity('V', {
    description: 'Ripple, rms of the fundamental',
    examples: ['20 mV'],
    notNegative: true,
  }).exactOptional(),
  ripple_frequency: quantity('Hz', {
    description: 'Frequency of the fundamental',
    examples: ['100 Hz', '120 Hz'],
    positive: true,
  }).exactOptional(),
  harmonics: list(plainNumber({ description: 'Over the fundamental', examples: ['0.25'], notNegative: true }), {
    description: 'Amplitude of the second, third … harmonic over the fundamental',
    examples: ['[0.25, 0.1]'],
  }).exactOptional(),
}).superRefine(({ ripple, ripple_frequency }, context) => {
  if (ripple === undefined || ripple_frequency !== undefined) return;
  addFault(context, { code: 'missing-key', message: 'is missing; write ripple_frequency: 100 Hz' }, [
    'ripple_frequency',
  ]);
});

const load = strict({
  resistance: quantity('Ω', { description: 'Load resistance', examples: ['100 kΩ'], positive: true }).exactOptional(),
  capacitance: quantity('F', {
    description: 'Load capacitance',
    examples: ['330 pF'],
    notNegative: true,
  }).exactOptional(),
}).meta({ description: 'What hangs on the output; silent: nothing' });

const cartridge: Field<Cartridge> = strict({
  resistance: quantity('Ω', { description: 'Resistance of the coil', examples: ['800 Ω'], notNegative: true }),
  inductance: quantity('H', { description: 'Inductance of the coil', examples: ['480 mH'], notNegative: true }),
  cable: quantity('F', {
    description: 'Capacitance of the cable; silent: 0',
    examples: ['150 pF'],
    notNegative: true,
  }).exactOptional(),
  output: quantity('V', { description: 'Output, rms', examples: ['5 mV'], positive: true }).exactOptional(),
});

const drawnAt = list(
  plainNumber({ description: 'Squares from the input terminal, to the right and downwards', examples: ['24'] }),
  { description: 'Squares right of the input terminal, and below it', examples: ['[24, -6]'], least: 2, most: 2 },
);

const silent = { description: 'Node with a bare name shared by every channel', examples: ['vq'] };

/** The board file. */
export const boardFile: Field<BoardFile> = strict({
  board: version('board'),
  title: text({ description: 'What is on the bench', examples: ['Larkfield LK 417, phono card'] }),
  channels: channels.exactOptional(),
  common: list(matching(/^[A-Za-z0-9_]+$/, 'wrong-form', silent), {
    description: 'Nodes shared by the channels, beside gnd and the rails',
    examples: ['[vq]'],
  }).exactOptional(),
  rails: table(sharedKey, rail, { description: 'Supplies by the node they feed' }).exactOptional(),
  input: strict({ node: node('Node the cartridge is joined to') }),
  output: strict({ node: node('Node the output is taken from'), load: load.exactOptional() }),
  loop: strict({
    lead: matching(/^[A-Z]{1,3}[0-9]{1,5}[A-Z]?\.[a-z]+$/, 'wrong-form', {
      description:
        'Lead of a transistor, valve or op-amp through which the whole feedback loop goes, in one of the channels',
      examples: ['Q103.base', 'U101A.minus'],
    }),
  })
    .meta({ description: 'Where the feedback loop is looked into, for its phase margin' })
    .exactOptional(),
  matched: list(alikeParts, {
    description:
      'Parts that were picked alike, so that one tolerance moves them together; all others are drawn each by itself, halves of one package alike',
    examples: ['[Q101/Q102]'],
  }).exactOptional(),
  drawing: table(positionKey, drawnAt, {
    description:
      'Where the middles of parts stand on the drawing of the stage, the same in every channel; all others find their place',
  }).exactOptional(),
  parts: table(positionKey, partEntry, { description: 'Parts by reference designator' }),
  types: types.exactOptional(),
  cartridges: table(nameKey, cartridge, { description: 'Cartridges by name' }).exactOptional(),
  limits: limits.exactOptional(),
});

/** JSON Schema (draft 2020-12) of a board file. */
export function boardJsonSchema(): Record<string, unknown> {
  return { ...published, title: 'Board file', description: 'One phono equaliser board', ...jsonSchemaOf(boardFile) };
}

/** JSON Schema (draft 2020-12) of `types:` standing alone: types by name. */
export function typesJsonSchema(): Record<string, unknown> {
  return { ...published, title: 'Types', ...jsonSchemaOf(types) };
}

const published = { $schema: 'https://json-schema.org/draft/2020-12/schema' };
