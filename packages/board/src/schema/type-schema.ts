import type { z } from 'zod';
import type { PartType, Ratings } from '../part-type.ts';
import { suggestion } from '../nearest.ts';
import { currentGain, forwardPoints, transitFrequency, voltsAt } from './figure-points.ts';
import {
  addFault,
  choice,
  isKind,
  isMap,
  isText,
  nameKey,
  oneOf,
  plainNumber,
  quantity,
  shown,
  strict,
  table,
  type Field,
} from './fields.ts';
import { leadOrder } from './part-schema.ts';

/** The order of a case's leads; `front` where only the order is written. */
export const caseLeads: Field<NonNullable<Ratings['caseLeads']>> = oneOf<NonNullable<Ratings['caseLeads']>>(
  [
    { fits: isText, schema: leadOrder.transform((order) => ({ order, view: 'front' as const })) },
    {
      fits: isMap,
      schema: strict({
        order: leadOrder,
        view: choice(['front', 'below_flat_up', 'below_flat_down'], {
          description: 'From where: from the front with the leads down, or from below',
        }),
      }),
    },
  ],
  {
    description: 'Lead letters seen from the front, flat towards the reader and leads down',
    examples: ['ECB', '{ order: ECB, view: below_flat_up }'],
  },
);

type Optional<T> = z.ZodExactOptional<Field<T>>;

const kind = <const K extends string>(name: K): Field<K> => choice([name], { description: 'Kind of part' });
const farads = (description: string, example: string): Optional<number> =>
  quantity('F', { description, examples: [example], notNegative: true }).exactOptional();
const ohms = (description: string, example: string): Optional<number> =>
  quantity('Ω', { description, examples: [example], notNegative: true }).exactOptional();
const corner = (description: string): Optional<number> =>
  quantity('Hz', { description, examples: ['300 Hz'], notNegative: true }).exactOptional();
const noiseVoltage: Optional<number> = quantity('V/√Hz', {
  description: 'Noise voltage referred to the input',
  examples: ['4 nV/√Hz'],
  notNegative: true,
}).exactOptional();
const rating = (unit: 'V' | 'A' | 'W', description: string, example: string): Optional<number> =>
  quantity(unit, { description, examples: [example], positive: true }).exactOptional();
const ratio = (description: string, example: string): Optional<number> =>
  quantity('dB', { description, examples: [example], positive: true })
    .transform((decibels) => 10 ** (decibels / 20))
    .exactOptional();

const caseAndPower = {
  Ptot: rating('W', 'Rated power', '300 mW'),
  case_leads: caseLeads.exactOptional(),
};

const bipolarFigures = {
  hFE: currentGain,
  VBE: voltsAt({
    description: 'Base-emitter voltage at a collector current',
    examples: ['600 mV'],
    at: { description: 'Collector current', examples: ['1 mA'] },
  }),
  early_voltage: rating('V', 'Early voltage; silent: infinite', '90 V'),
  fT: transitFrequency.exactOptional(),
  Cob: farads('Collector-base capacitance', '3 pF'),
  Cib: farads('Base-emitter capacitance without current; silent: as Cob', '6 pF'),
  rbb: ohms('Base spreading resistance', '120 Ω'),
  noise_corner: corner('Where 1/f noise of the base current equals its shot noise'),
  VCEO: rating('V', 'Rated collector-emitter voltage', '50 V'),
  VEBO: rating('V', 'Rated emitter-base voltage', '5 V'),
  IC: rating('A', 'Rated collector current', '100 mA'),
  ...caseAndPower,
};

/** kT/q at 25 °C, where datasheet figures hold; k and q are exact (SI, 2019). */
const thermalVolts = (1.380649e-23 * 298.15) / 1.602176634e-19;

const bipolar = (name: 'npn' | 'pnp'): Field<PartType> =>
  strict({ kind: kind(name), ...bipolarFigures })
    .superRefine(({ fT, Cob = 0, Cib = Cob }, context) => {
      if (fT?.at === undefined) return;
      const whole = 1 / (2 * Math.PI * fT.value);
      const capacitances = ((Cib + Cob) * thermalVolts) / fT.at;
      if (whole >= capacitances) return;
      const most = (1 / (2 * Math.PI * capacitances) / 1e6).toPrecision(3);
      const message = `leaves no time for the transit, as Cib and Cob alone bring it to ${most} MHz; write fT at the current it was measured at, or smaller capacitances`;
      addFault(context, { code: 'transit-time', message }, ['fT']);
    })
    .transform(({ hFE, early_voltage, noise_corner, case_leads, ...rest }): PartType => ({
      ...rest,
      hFE: hFE.points,
      ...(hFE.low === undefined ? {} : { hFELow: hFE.low }),
      ...(hFE.high === undefined ? {} : { hFEHigh: hFE.high }),
      ...(early_voltage === undefined ? {} : { earlyVoltage: early_voltage }),
      ...(noise_corner === undefined ? {} : { noiseCorner: noise_corner }),
      ...casedAs(case_leads),
    }));

function casedAs(leads: Ratings['caseLeads']): Pick<Ratings, 'caseLeads'> {
  return leads === undefined ? {} : { caseLeads: leads };
}

const diode: Field<PartType> = strict({
  kind: kind('diode'),
  VF: forwardPoints,
  ideality: plainNumber({
    description: 'Emission coefficient, with one VF point; silent: 1',
    examples: ['1.8'],
    positive: true,
  }).exactOptional(),
  ...caseAndPower,
})
  .superRefine(({ VF, ideality }, context) => {
    if (VF.length < 2 || ideality === undefined) return;
    const message = 'follows from the two points of VF already; leave ideality out, or write one point';
    addFault(context, { code: 'wrong-form', message }, ['ideality']);
  })
  .transform(({ case_leads, ...rest }): PartType => ({ ...rest, ...casedAs(case_leads) }));

const zener: Field<PartType> = strict({
  kind: kind('zener'),
  VZ: voltsAt({
    description: 'Zener voltage at a current',
    examples: ['12 V'],
    at: { description: 'Zener current', examples: ['5 mA'] },
  }),
  rz: ohms('Slope resistance at that current; silent: as steep as kT/q', '10 Ω'),
  VF: forwardPoints.exactOptional(),
  ...caseAndPower,
}).transform(({ case_leads, ...rest }): PartType => ({ ...rest, ...casedAs(case_leads) }));

const swingVolts = (supply: string): Field<number> =>
  quantity('V', { description: `How far the output stays off the ${supply}`, examples: ['1.5 V'], notNegative: true });

const opAmp: Field<PartType> = strict({
  kind: kind('opamp'),
  gain: ratio('Open-loop DC gain; silent: infinite', '100 dB'),
  GBW: quantity('Hz', {
    description: 'Gain-bandwidth product; silent: infinite',
    examples: ['8 MHz'],
    positive: true,
  }).exactOptional(),
  Rout: ohms('Open-loop output resistance', '50 Ω'),
  swing: strict({ above: swingVolts('positive supply'), below: swingVolts('negative supply') }).exactOptional(),
  en: noiseVoltage,
  en_corner: corner('Where 1/f noise of the noise voltage equals its white part'),
  in: quantity('A/√Hz', {
    description: 'Noise current of each input',
    examples: ['0.5 pA/√Hz'],
    notNegative: true,
  }).exactOptional(),
  in_corner: corner('Where 1/f noise of the noise current equals its white part'),
  PSRR: ratio('Rejection of the supplies; silent: infinite', '90 dB'),
  ...caseAndPower,
}).transform(({ en_corner, in_corner, case_leads, ...rest }): PartType => ({
  ...rest,
  ...(en_corner === undefined ? {} : { enCorner: en_corner }),
  ...(in_corner === undefined ? {} : { inCorner: in_corner }),
  ...casedAs(case_leads),
}));

const jfet = (name: 'jfet-n' | 'jfet-p'): Field<PartType> =>
  strict({
    kind: kind(name),
    IDSS: quantity('A', { description: 'Drain current at VGS = 0', examples: ['6 mA'], positive: true }),
    VGS_off: quantity('V', {
      description: 'Cut-off voltage: negative for n-channel, positive for p-channel',
      examples: [name === 'jfet-n' ? '-1 V' : '1 V'],
    }),
    yos: quantity('S', {
      description: 'Output conductance at IDSS',
      examples: ['20 µS'],
      notNegative: true,
    }).exactOptional(),
    Crss: farads('Gate-drain capacitance', '4 pF'),
    Ciss: farads('Gate-drain plus gate-source capacitance', '15 pF'),
    en: noiseVoltage,
    en_corner: corner('Where 1/f noise of the noise voltage equals its white part'),
    ...caseAndPower,
  })
    .superRefine(({ VGS_off, Crss = 0, Ciss }, context) => {
      if (name === 'jfet-n' ? VGS_off >= 0 : VGS_off <= 0) {
        const message = `${VGS_off} V cannot cut ${name === 'jfet-n' ? 'an n' : 'a p'}-channel part off; write a ${name === 'jfet-n' ? 'negative' : 'positive'} voltage`;
        addFault(context, { code: 'out-of-range', message }, ['VGS_off']);
      }
      if (Ciss !== undefined && Ciss < Crss)
        addFault(context, { code: 'out-of-range', message: 'is below Crss, which it contains; write a larger Ciss' }, [
          'Ciss',
        ]);
    })
    .transform(({ VGS_off, en_corner, case_leads, ...rest }): PartType => ({
      ...rest,
      pinchOff: Math.abs(VGS_off),
      ...(en_corner === undefined ? {} : { enCorner: en_corner }),
      ...casedAs(case_leads),
    }));

const triode: Field<PartType> = strict({
  kind: kind('triode'),
  mu: plainNumber({ description: 'Amplification factor µ', examples: ['100'], positive: true }),
  rp: quantity('Ω', { description: 'Anode resistance at the stated point', examples: ['62.5 kΩ'], positive: true }),
  at: strict({
    Va: quantity('V', { description: 'Anode voltage', examples: ['250 V'], positive: true }),
    Ia: quantity('A', { description: 'Anode current', examples: ['1.2 mA'], positive: true }),
  }).meta({ description: 'The point at which µ and rp hold' }),
  Cag: farads('Anode-grid capacitance', '1.7 pF'),
  Cgk: farads('Grid-cathode capacitance', '1.6 pF'),
  Cak: farads('Anode-cathode capacitance', '0.5 pF'),
  en: noiseVoltage,
  ...caseAndPower,
}).transform(({ case_leads, ...rest }): PartType => ({ ...rest, ...casedAs(case_leads) }));

const kinds: readonly PartType['kind'][] = ['npn', 'pnp', 'diode', 'zener', 'opamp', 'jfet-n', 'jfet-p', 'triode'];

/** A type as written under `types:`, read into SI figures. */
export const partType: Field<PartType> = oneOf<PartType>(
  [
    { fits: isKind('npn'), schema: bipolar('npn') },
    { fits: isKind('pnp'), schema: bipolar('pnp') },
    { fits: isKind('diode'), schema: diode },
    { fits: isKind('zener'), schema: zener },
    { fits: isKind('opamp'), schema: opAmp },
    { fits: isKind('jfet-n'), schema: jfet('jfet-n') },
    { fits: isKind('jfet-p'), schema: jfet('jfet-p') },
    { fits: isKind('triode'), schema: triode },
  ],
  { description: 'Datasheet figures of a part; p-type figures are magnitudes' },
  (input) => {
    if (!isMap(input))
      return { code: 'wrong-form', message: 'needs keys and values; write { kind: npn, … }', path: [] };
    if (input['kind'] === undefined)
      return { code: 'missing-key', message: `is missing; write kind: ${kinds.join(', ')}`, path: ['kind'] };
    const message = `${shown(String(input['kind']))} is no kind of type; ${suggestion(String(input['kind']), kinds)}`;
    return { code: 'wrong-form', message, path: ['kind'] };
  },
);

/** `types:` of a board or a job. */
export const types: Field<Record<string, PartType>> = table(nameKey, partType, {
  description: 'Types by name: datasheet figures',
});
