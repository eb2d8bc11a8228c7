import type { z } from 'zod';
import { suggestion } from '../nearest.ts';
import {
  addFault,
  choice,
  hasKey,
  isKind,
  isMap,
  list,
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
import { esr, leakage, rippleCurrent } from './loss-schema.ts';
import type { CapacitorEntry, PartEntry, TypedEntry } from './part-entry.ts';
import { body, seat } from './size-schema.ts';

export type * from './part-entry.ts';
export { body, leadOrder } from './size-schema.ts';
export { esr, leakage, leakageOhms, rippleCurrent } from './loss-schema.ts';

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

const capacitorFigures = {
  kind: kind('capacitor'),
  build: choice(capacitorBuilds, { description: 'How it is built', examples: ['film'] }).exactOptional(),
  value: quantity('F', { description: 'Capacitance', examples: ['0.68 µF', '330n'], positive: true }),
  tolerance: tolerance().exactOptional(),
  rated: quantity('V', { description: 'Rated voltage', examples: ['35 V'], positive: true }).exactOptional(),
  esr: esr.exactOptional(),
  leakage: leakage.exactOptional(),
  loss: plainNumber({ description: 'Loss factor tan δ', examples: ['0.04'], notNegative: true }).exactOptional(),
  ripple_current: rippleCurrent.exactOptional(),
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
    if (input.kind === undefined)
      return {
        code: 'missing-key',
        message: `is missing; write kind: ${kinds.join(', ')}, or type: NAME`,
        path: ['kind'],
      };
    const message = `${shown(input.kind)} is no kind of part; ${suggestion(shown(input.kind), kinds)}`;
    return { code: 'wrong-form', message, path: ['kind'] };
  },
);
