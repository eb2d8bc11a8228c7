import type { PartType } from '../part-type.ts';
import { suggestion } from '../nearest.ts';
import { forwardPoints, voltsAt } from './figure-points.ts';
import {
  addFault,
  isKind,
  isMap,
  nameKey,
  oneOf,
  plainNumber,
  quantity,
  shown,
  strict,
  table,
  type Field,
} from './fields.ts';
import { bipolar } from './bipolar-schema.ts';
import { caseAndPower, casedAs, corner, farads, kind, noiseVoltage, ohms, rating, ratio } from './type-figures.ts';

export { caseForm, caseLeads } from './type-figures.ts';

const diode: Field<PartType> = strict({
  kind: kind('diode'),
  VF: forwardPoints,
  ideality: plainNumber({
    description: 'Emission coefficient, with one VF point; silent: 1',
    examples: ['1.8'],
    positive: true,
  }).exactOptional(),
  IF: rating('A', 'Rated forward current', '100 mA'),
  VR: rating('V', 'Rated reverse voltage', '75 V'),
  ...caseAndPower,
})
  .superRefine(({ VF, ideality }, context) => {
    if (VF.length < 2 || ideality === undefined) return;
    const message = 'follows from the two points of VF already; leave ideality out, or write one point';
    addFault(context, { code: 'wrong-form', message }, ['ideality']);
  })
  .transform(({ case_leads, case: form, ...rest }): PartType => ({ ...rest, ...casedAs(case_leads, form) }));

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
}).transform(({ case_leads, case: form, ...rest }): PartType => ({ ...rest, ...casedAs(case_leads, form) }));

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
  VS: rating('V', 'Rated voltage between the supplies', '36 V'),
  ...caseAndPower,
}).transform(({ en_corner, in_corner, case_leads, case: form, ...rest }): PartType => ({
  ...rest,
  ...(en_corner === undefined ? {} : { enCorner: en_corner }),
  ...(in_corner === undefined ? {} : { inCorner: in_corner }),
  ...casedAs(case_leads, form),
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
    VDS: rating('V', 'Rated drain-source voltage, a magnitude', '40 V'),
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
    .transform(({ VGS_off, en_corner, case_leads, case: form, ...rest }): PartType => ({
      ...rest,
      pinchOff: Math.abs(VGS_off),
      ...(en_corner === undefined ? {} : { enCorner: en_corner }),
      ...casedAs(case_leads, form),
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
  Va: rating('V', 'Rated anode-cathode voltage', '330 V'),
  ...caseAndPower,
}).transform(({ case_leads, case: form, ...rest }): PartType => ({ ...rest, ...casedAs(case_leads, form) }));

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
    if (input.kind === undefined)
      return { code: 'missing-key', message: `is missing; write kind: ${kinds.join(', ')}`, path: ['kind'] };
    const message = `${shown(input.kind)} is no kind of type; ${suggestion(shown(input.kind), kinds)}`;
    return { code: 'wrong-form', message, path: ['kind'] };
  },
);

/** `types:` of a board or a job. */
export const types: Field<Record<string, PartType>> = table(nameKey, partType, {
  description: 'Types by name: datasheet figures',
});
