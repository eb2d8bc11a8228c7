import type { Capacitor, TypedPart } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import { printQuantity } from '@curvewright/quantity';
import { spelled } from './spelled.ts';
import { ofPart, saidVolts, swingOf, type FitContext, type FitRow } from './fit-row.ts';

/** Builds with a positive lead of their own. */
const polarisedBuilds: readonly (string | undefined)[] = ['aluminium', 'tantalum'];

/** V across a drawn diode from which its direction is plain. */
const plainDirection = 0.1;

/** Which way round a capacitor stands, at the bias and on the way up; nothing for a build that has no polarity. */
export function capacitorPolarity(part: Capacitor, context: FitContext): readonly FitRow[] {
  const isPolarised = polarisedBuilds.includes(part.build) || (part.build === undefined && part.polarised);
  if (!isPolarised) return [];
  const { network, point } = context.stage;
  const across = nodeVolts(network, point, part.plus) - nodeVolts(network, point, part.minus);
  const swing = swingOf(context, part.ref, 'plus-minus', across);
  // Where the file gives the leads no polarity, the part goes in the way that its steady voltage asks for.
  const turned = !part.polarised && across < 0;
  const [steady, lowest] = turned ? [-across, -swing.highest] : [across, swing.lowest];
  const [plus, minus] = turned ? [part.minus, part.plus] : [part.plus, part.minus];
  const leads = `plus goes to ${spelled(plus, part, context.stage.circuit)}, minus to ${spelled(minus, part, context.stage.circuit)}`;
  return [standing(part, context, steady, leads), onTheWay(part, context, lowest)];
}

function standing(part: Capacitor, { ratings }: FitContext, volts: number, leads: string): FitRow {
  const wrong = volts < -ratings.reverse;
  const asksForCare = !part.polarised && part.fitted === true;
  return {
    what: 'polarity',
    ...ofPart(part),
    level: wrong ? 'fail' : asksForCare ? 'look' : 'good',
    where: 'steady',
    value: volts,
    margin: volts + ratings.reverse,
    unit: 'V',
    bound: reverseWords(ratings.reverse),
    cause: wrong
      ? `${part.ref} stands the wrong way round: its minus lead is ${printQuantity(-volts, 'V')} above its plus`
      : asksForCare
        ? `${part.ref} has a polarity and the board file gives its place none: ${leads}`
        : `${part.ref}: ${leads}`,
    next: wrong ? `turn ${part.ref} round` : asksForCare ? `mind it at ${part.ref}: ${leads}` : 'nothing',
  };
}

/** A tantalum dies of what an aluminium capacitor forgives. */
function onTheWay(part: Capacitor, { ratings }: FitContext, lowest: number): FitRow {
  const tantalum = part.build === 'tantalum';
  const allowed = Math.max(ratings.reverse, tantalum ? ratings.reverse_tantalum : ratings.reverse_aluminium);
  const good = lowest >= -allowed;
  return {
    what: 'polarity',
    ...ofPart(part),
    level: good ? 'good' : tantalum ? 'fail' : 'look',
    where: 'on the way up',
    value: lowest,
    margin: lowest + allowed,
    unit: 'V',
    bound: reverseWords(allowed),
    cause: good
      ? `${part.ref}: its plus lead falls at most ${saidVolts(Math.max(0, -lowest))} below its minus`
      : `${part.ref} is reversed by ${printQuantity(-lowest, 'V')} while the supplies come up`,
    next: good ? 'nothing' : `choose a film or bipolar capacitor at ${part.ref}`,
  };
}

function reverseWords(volts: number): string {
  return `${printQuantity(volts, 'V')} the wrong way round`;
}

/** A diode that now stands against the current that it carries on the drawn board. */
export function diodePolarity(part: TypedPart, { stage, drawn }: FitContext): readonly FitRow[] {
  const before = drawn?.circuit.parts.find((each) => each.ref === part.position);
  if (drawn === null || before?.kind !== 'typed') return [];
  if (before.type.kind !== 'diode' && before.type.kind !== 'zener') return [];
  const drop = ({ network, point }: typeof stage, { leads }: TypedPart): number =>
    nodeVolts(network, point, leads.anode ?? 'gnd') - nodeVolts(network, point, leads.cathode ?? 'gnd');
  const [was, is] = [drop(drawn, before), drop(stage, part)];
  if (Math.abs(was) < plainDirection) return [];
  const volts = Math.sign(was) * is;
  const good = volts > 0;
  const forward = was > 0 ? 'forwards' : 'backwards, as a zener does,';
  return [
    {
      what: 'polarity',
      ...ofPart(part),
      level: good ? 'good' : 'fail',
      where: 'band',
      value: volts,
      margin: volts,
      unit: 'V',
      bound: '0 V the wrong way round',
      cause: good
        ? `${part.ref} conducts ${forward} as drawn: its band on ${spelled(part.leads.cathode ?? '', part, stage.circuit)}`
        : `${part.ref} stands the wrong way round: the drawn part conducts ${forward} there`,
      next: good ? 'nothing' : `turn ${part.ref} round`,
    },
  ];
}
