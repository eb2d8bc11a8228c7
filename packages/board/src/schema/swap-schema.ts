import { readQuantity, type Unit } from '@curvewright/quantity';
import {
  choice,
  field,
  flag,
  list,
  plainNumber,
  quantity,
  strict,
  text,
  tolerance,
  type Field,
  type Told,
} from './fields.ts';
import {
  body,
  capacitorBuilds,
  esr,
  leadOrder,
  leakage,
  resistorBuilds,
  rippleCurrent,
  turn,
  type BodySize,
  type Leakage,
} from './part-schema.ts';
import { junctionNames, type JunctionName } from '../fault.ts';
import type { CaseForm, CaseLeads, FigureAt } from '../part-type.ts';
import { currentGain, forwardPoints, voltsAt, type CurrentGain } from './figure-points.ts';
import { caseForm, caseLeads } from './type-schema.ts';

/** What was wrong with a pulled part, or with the joint or the track at one of its leads. */
const faultNames = [
  'open_circuit',
  'short_circuit',
  'dried',
  'leaky',
  'noisy',
  'intermittent',
  'junction_open',
  'junction_short',
  'open_joint',
  'cracked_track',
  'wiper_open',
] as const;
export type FaultName = (typeof faultNames)[number];

/** A part as written under `pulled` or `fit`, values in SI units; which keys make sense depends on the position. */
export interface SwapEntry {
  readonly type?: string;
  readonly build?: string;
  /** As written: the unit follows from the kind of the position. */
  readonly value?: string;
  readonly tolerance?: { readonly minus: number; readonly plus: number };
  /** As written: V for a capacitor, W for a resistor. */
  readonly rated?: string;
  readonly esr?: { readonly value: number; readonly at?: number };
  readonly leakage?: Leakage;
  readonly loss?: number;
  /** A rms. */
  readonly ripple_current?: number;
  readonly noise_index?: number;
  /** Ω of an inductor's winding. */
  readonly resistance?: number;
  readonly turn?: number;
  /** Where a switch stands. */
  readonly at?: string;
  readonly inserted?: string;
  readonly reversed?: boolean;
  /** Of the case in hand, where the type has several. */
  readonly case_leads?: CaseLeads;
  readonly case?: CaseForm;
  readonly body?: BodySize;
  readonly hFE?: CurrentGain;
  readonly VBE?: FigureAt;
  readonly noise_corner?: number;
  readonly VF?: readonly FigureAt[];
  readonly VZ?: FigureAt;
  readonly IDSS?: number;
  readonly VGS_off?: number;
  readonly mu?: number;
  readonly rp?: number;
}

/** A pulled part: what it leaves out stays as drawn. */
export interface PulledEntry extends SwapEntry {
  readonly faults?: readonly FaultName[];
  /** A at 25 °C. */
  readonly ICBO?: number;
  readonly junction?: JunctionName;
  /** The lead at which a joint, a contact or a track is at fault. */
  readonly lead?: string;
  /** Ω in series with it. */
  readonly contact?: number;
  /** `REF.lead` of what else stands beyond a crack. */
  readonly beyond?: readonly string[];
}

/**
 * A quantity whose unit follows from the position it is written for, so that it stays as written here: it must read in
 * one of `units`.
 */
function openQuantity(units: readonly Unit[], told: Told): Field<string> {
  return field({ type: 'string', ...told }, (input) => {
    if (typeof input === 'object') return { code: 'wrong-form', message: 'needs one value' };
    const faults = units.flatMap((unit) => {
      const reading = readQuantity(input, unit);
      return reading.ok ? [] : [reading];
    });
    const [fault] = faults;
    if (fault === undefined || faults.length < units.length) return { value: String(input) };
    const { fault: code, message } = faults.find((each) => each.fault !== 'wrong-unit') ?? fault;
    return { code, message };
  });
}

const figures = {
  type: text({ description: 'Name of its type', examples: ['HN-B'] }).exactOptional(),
  build: choice([...capacitorBuilds, ...resistorBuilds], {
    description: 'How it is built',
    examples: ['film'],
  }).exactOptional(),
  value: openQuantity(['Ω', 'F', 'H'], {
    description: 'Value, in the unit of the position [Ω, F or H]',
    examples: ['1 µF', '4k7'],
  }).exactOptional(),
  tolerance: tolerance().exactOptional(),
  rated: openQuantity(['V', 'W'], {
    description: 'Rated voltage or power [V or W]',
    examples: ['100 V', '0.5 W'],
  }).exactOptional(),
  esr: esr.exactOptional(),
  leakage: leakage.exactOptional(),
  loss: plainNumber({ description: 'Loss factor tan δ', examples: ['0.04'], notNegative: true }).exactOptional(),
  ripple_current: rippleCurrent.exactOptional(),
  noise_index: quantity('dB', { description: 'Excess noise (IEC 60195)', examples: ['-10 dB'] }).exactOptional(),
  resistance: quantity('Ω', {
    description: 'Resistance of the winding',
    examples: ['3 Ω'],
    notNegative: true,
  }).exactOptional(),
  turn: turn.exactOptional(),
  at: text({ description: 'Position a switch stands in', examples: ['riaa'] }).exactOptional(),
  inserted: leadOrder.exactOptional(),
  reversed: flag({ description: 'A polarised part stands the wrong way round', examples: ['true'] }).exactOptional(),
  case_leads: caseLeads.exactOptional(),
  case: caseForm.exactOptional(),
  body: body.exactOptional(),
  hFE: currentGain.exactOptional(),
  VBE: voltsAt({
    description: 'Base-emitter voltage of this piece, a magnitude',
    examples: ['600 mV'],
    at: { description: 'Collector current', examples: ['1 mA'] },
  }).exactOptional(),
  noise_corner: quantity('Hz', {
    description: 'Where 1/f noise of the base current equals its shot noise',
    examples: ['300 Hz'],
    notNegative: true,
  }).exactOptional(),
  VF: forwardPoints.exactOptional(),
  VZ: voltsAt({
    description: 'Zener voltage of this piece',
    examples: ['12 V'],
    at: { description: 'Zener current', examples: ['5 mA'] },
  }).exactOptional(),
  IDSS: quantity('A', {
    description: 'Drain current at zero gate voltage, a magnitude',
    examples: ['6 mA'],
    positive: true,
  }).exactOptional(),
  VGS_off: quantity('V', {
    description: 'Cut-off voltage, negative for an n-channel part',
    examples: ['-1 V'],
  }).exactOptional(),
  mu: plainNumber({ description: 'Amplification factor', examples: ['100'], positive: true }).exactOptional(),
  rp: quantity('Ω', { description: 'Anode resistance', examples: ['62.5 kΩ'], positive: true }).exactOptional(),
};

/** A fitted part. */
export const fitPart: Field<SwapEntry> = strict(figures).meta({
  description: 'A fitted part; nothing but the value is taken from the drawn one',
});

/** A pulled part with its faults. */
export const pulled: Field<PulledEntry> = strict({
  ...figures,
  faults: list(
    choice(faultNames, {
      description:
        'What is wrong: junction_open and junction_short with junction; open_joint with lead; cracked_track with lead and beyond; ' +
        'dried, leaky and noisy by their figures (value and esr; leakage or ICBO; noise_corner or noise_index); ' +
        'intermittent is kept as a word, write contact for the resistance it stood at',
    }),
    { description: 'Faults of the pulled part, its joints and the track at its leads', examples: ['[leaky]'] },
  ).exactOptional(),
  ICBO: quantity('A', {
    description: 'Collector-base leakage current at 25 °C, a magnitude',
    examples: ['2 µA'],
    positive: true,
  }).exactOptional(),
  junction: choice(junctionNames, {
    description: 'The junction that is open or short',
    examples: ['base_emitter'],
  }).exactOptional(),
  lead: text({
    description:
      'The lead whose joint, contact or track is at fault: collector, plus, pole, wiper …, 1 or 2 of a part between two nodes',
    examples: ['base'],
  }).exactOptional(),
  contact: quantity('Ω', {
    description:
      'Resistance of a joint, plug or selector contact in series with lead; a part with two leads, a switch (pole) and a trimmer (wiper) ' +
      'need no lead beside it',
    examples: ['30 Ω'],
    positive: true,
  }).exactOptional(),
  beyond: list(text({ description: 'REF.lead', examples: ['C101.plus'] }), {
    description: 'What else is cut off with lead by a cracked track: leads on the same node',
    examples: ['[C101.plus]'],
    least: 1,
  }).exactOptional(),
}).meta({ description: 'What was pulled, as measured; what it leaves out stays as drawn' });
