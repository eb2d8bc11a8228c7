import {
  agePart,
  faultMismatch,
  junctionNames,
  leadsOf,
  leadLetter,
  twoLeads,
  type Capacitor,
  type Circuit,
  type Fault,
  type FaultKind,
  type Part,
  type PartType,
  type TypedPart,
} from '@curvewright/board';
import { inspectCircuit } from '@curvewright/network';
import { ordersOf } from '../fit/insertions.ts';
import { mainValue } from '../part-value.ts';
import { placeToken, type Hypothesis, type Run } from './hypothesis.ts';
import { priorOf, type Priors } from './priors.ts';

/** Grids of values a fault is tried at, from one to the next by at most a factor of two where readings follow closely. */
const grids = {
  driftUp: [1.2, 1.35, 1.5, 1.75, 2, 2.5, 3, 4, 6, 10, 18, 30],
  driftDown: [0.1, 0.18, 0.3, 0.42, 0.55, 0.68, 0.8],
  left: [0.01, 0.02, 0.04, 0.07, 0.12, 0.2, 0.3, 0.42, 0.55, 0.7],
  driedOhms: [0, 30, 150, 600],
  leakage: [500, 1e3, 2e3, 4e3, 8e3, 16e3, 32e3, 64e3, 125e3, 250e3, 500e3, 1e6, 2e6, 4e6, 8e6],
  contact: [10, 30, 100, 300, 1e3, 3e3, 10e3, 30e3, 100e3],
  leadContact: [100, 300, 1e3, 3e3, 10e3, 30e3, 100e3],
  ICBO: [0.1e-6, 0.2e-6, 0.4e-6, 0.8e-6, 1.6e-6, 3.2e-6, 6.4e-6, 13e-6, 25e-6, 50e-6, 100e-6],
  corner: [3e3, 10e3, 30e3, 100e3],
  lowGain: [0.03, 0.05, 0.08, 0.13, 0.2, 0.32, 0.5, 0.75],
  highGain: [1.3, 1.7, 2.2, 3, 4],
  weak: [0.1, 0.2, 0.35, 0.5, 0.65],
  forward: [0.45, 0.5, 0.55, 0.65, 0.75, 0.85, 1.2, 1.5, 2],
  decades: [0.01, 0.1, 10, 100],
} as const;

interface Maker {
  readonly circuit: Circuit;
  readonly part: Part;
  readonly priors: Priors;
}

/** Everything that can be wrong with one part, its joints and contacts. */
export function partFaults(circuit: Circuit, part: Part, priors: Priors): readonly Hypothesis[] {
  const maker = { circuit, part, priors };
  switch (part.kind) {
    case 'resistor':
    case 'inductor':
      return [...ends(maker), ...drift(maker), ...wrongValue(maker)];
    case 'trimmer':
      return [
        ...ends(maker),
        ...drift(maker),
        ...(part.wiper === undefined ? [] : [sure(maker, 'wiper_open', 'wiper open', '', { kind: 'wiper_open' })]),
      ];
    case 'switch':
      return [
        sure(maker, 'open', 'open contact', '', { kind: 'open' }),
        fitted(maker, 'contact', 'resistance in the contact', 'pole', 'Ω', grids.contact, (ohms) => ({
          kind: 'contact',
          lead: 'pole',
          ohms,
        })),
      ];
    case 'capacitor':
      return capacitorFaults(maker, part);
    case 'typed':
      return typedFaults(maker, part);
  }
}

/** A two-lead part is open alike by itself, at either joint and by a crack at either lead. */
function ends(maker: Maker): readonly Hypothesis[] {
  const { circuit, part } = maker;
  const [lead = ''] = Object.keys(leadsOf(part));
  // Gone altogether it may leave a grid on no node at all; with one lead off, the grid keeps its own.
  const hangs = inspectCircuit(agePart(circuit, part.ref, { kind: 'open' })).length > 0;
  const fault: Fault = hangs ? { kind: 'open_joint', lead } : { kind: 'open' };
  const open = sure(maker, 'open', 'open circuit, or a joint of it', '', fault);
  if (twoLeads(part) === null) return [open];
  const short = sure(maker, 'short', 'short circuit', '', { kind: 'short' });
  // A part without ohms is a link already.
  return mainValue(part) === 0 ? [open] : [open, short];
}

function drift(maker: Maker): readonly Hypothesis[] {
  const value = mainValue(maker.part);
  if (value === null || value === 0) return [];
  const drift = (direction: string, factors: readonly number[], share: number): Hypothesis => {
    const values = factors.map((factor) => factor * value);
    const all = fitted(maker, 'drifted', 'value drifted', direction, unitOf(maker.part), values, drifted);
    return { ...all, weight: share * all.weight };
  };
  // Resistors go high far more often than low.
  const up = maker.part.kind === 'capacitor' ? 0.4 : 0.8;
  return [drift('up', grids.driftUp, up), drift('down', grids.driftDown, 1 - up)];
}

function drifted(value: number): Fault {
  return { kind: 'drifted', value };
}

function unitOf(part: Part): Hypothesis['unit'] {
  if (part.kind === 'capacitor') return 'F';
  return part.kind === 'inductor' ? 'H' : 'Ω';
}

/** Whole decades off: a band or a digit misread. */
function wrongValue(maker: Maker): readonly Hypothesis[] {
  const value = mainValue(maker.part);
  if (value === null || value === 0) return [];
  const runs = grids.decades.map((factor) => aged(maker.part.ref, [factor * value], drifted));
  return [made(maker, 'wrong_value', 'a decade off', '', unitOf(maker.part), runs)];
}

const wet: readonly (string | undefined)[] = ['aluminium', 'aluminium_bipolar', 'tantalum'];

function capacitorFaults(maker: Maker, part: Capacitor): readonly Hypothesis[] {
  const leakages = grids.leakage.filter((ohms) => ohms < (part.leakage ?? Infinity) / 3);
  const [lead = ''] = Object.keys(leadsOf(part));
  const leaky = part.polarised ? 'leaky, or in the wrong way round' : 'leaky';
  return [
    ...ends(maker),
    ...(wet.includes(part.build) ? [dried(maker, part)] : drift(maker)),
    ...wrongValue(maker),
    fitted(maker, 'leaky', leaky, '', 'Ω', leakages, (ohms) => ({ kind: 'leaky', ohms })),
    fitted(maker, 'contact', 'resistance in series: ESR, or a joint', '', 'Ω', grids.contact, (ohms) => ({
      kind: 'contact',
      lead,
      ohms,
    })),
  ];
}

/** What is left of the capacitance, and the ESR that came with it. */
function dried(maker: Maker, part: Capacitor): Hypothesis {
  const { ref, farads, esr = 0 } = part;
  const values = grids.left.map((left) => left * farads);
  const runs = grids.driedOhms.map((ohms) =>
    aged(ref, values, (value) => ({ kind: 'dried', value, esr: Math.max(esr, ohms) })),
  );
  return made(maker, 'dried', 'dried out', '', 'F', runs);
}

function typedFaults(maker: Maker, part: TypedPart): readonly Hypothesis[] {
  const { type } = part;
  switch (type.kind) {
    case 'npn':
    case 'pnp': {
      const { hFELow, hFEHigh } = type;
      const typical = type.hFE[0]?.value ?? NaN;
      const low = grids.lowGain.map((factor) => factor * (hFELow ?? 0.6 * typical));
      const high = grids.highGain.map((factor) => factor * (hFEHigh ?? 1.7 * typical));
      const gain = (hFE: number): Fault => ({ kind: 'low_hFE', hFE });
      return [
        ...threeLeads(maker, part),
        plain(maker, 'low_hFE', 'low hFE', low, gain),
        plain(maker, 'high_hFE', 'high hFE', high, gain),
        fitted(maker, 'leaky_transistor', 'leaks from collector to base', '', 'A', grids.ICBO, (ICBO) => ({
          kind: 'leaky_transistor',
          ICBO,
        })),
        fitted(maker, 'noisy', '1/f noise of its base current', '', 'Hz', grids.corner, (corner) => ({
          kind: 'noisy',
          corner,
        })),
      ];
    }
    case 'jfet-n':
    case 'jfet-p':
      return [...threeLeads(maker, part), ...weak(maker, part, (factor) => ({ ...type, IDSS: factor * type.IDSS }))];
    case 'diode':
      return [
        ...ends(maker),
        typeRun(maker, part, 'drifted', 'forward voltage off', grids.forward, (factor) => ({
          ...type,
          VF: type.VF.map((point) => ({ ...point, value: factor * point.value })),
        })),
      ];
    case 'zener':
      return [
        ...ends(maker),
        typeRun(maker, part, 'drifted', 'zener voltage off', grids.forward, (factor) => ({
          ...type,
          VZ: { ...type.VZ, value: factor * type.VZ.value },
        })),
      ];
    case 'triode':
      return [
        sure(maker, 'open', 'dead: no emission', '', { kind: 'open' }),
        ...joints(maker, part),
        ...weak(maker, part, (factor) => ({ ...type, at: { ...type.at, Ia: factor * type.at.Ia } })),
      ];
    case 'opamp':
      return [
        sure(maker, 'open', 'dead: output open', '', { kind: 'open' }),
        ...joints(maker, part),
        ...stuck(maker, part),
      ];
  }
}

function threeLeads(maker: Maker, part: TypedPart): readonly Hypothesis[] {
  const junctions = junctionNames.flatMap((junction): Hypothesis[] => {
    const name = junction.replace('_', '-');
    const short: Fault = { kind: 'junction_short', junction };
    return faultMismatch(part, short) === null
      ? [sure(maker, 'junction_short', `${name} short`, junction, short)]
      : [];
  });
  return [...joints(maker, part), ...junctions, ...insertions(maker, part)];
}

/** A bond inside, a joint or a socket's contact: open, or with ohms of its own. */
function joints(maker: Maker, part: TypedPart): readonly Hypothesis[] {
  const inside = ['npn', 'pnp', 'jfet-n', 'jfet-p'].includes(part.type.kind);
  return Object.keys(part.leads).flatMap((lead) => [
    openLead(maker, lead, inside ? 'junction_open' : 'open_joint', `${lead} open${inside ? ', inside or at its joint' : ''}`),
    fitted(maker, 'contact', `resistance in the joint of ${lead}`, lead, 'Ω', grids.leadContact, (ohms) => ({
      kind: 'contact',
      lead,
      ohms,
    })),
  ]);
}

/** Leads that take no current of their own: cut off, nothing says where they stand. */
const currentless: readonly string[] = ['gate', 'grid', 'plus', 'minus'];

/** Ω over a gap, so that a lead without current keeps its node's voltage and none of its signal. */
const gapOhms = 100e9;

function openLead(maker: Maker, lead: string, kind: FaultKind, words: string): Hypothesis {
  if (!currentless.includes(lead)) return sure(maker, kind, words, lead, { kind: 'open_joint', lead });
  return { ...sure(maker, kind, words, lead, { kind: 'contact', lead, ohms: gapOhms }), vague: true };
}

function insertions(maker: Maker, part: TypedPart): readonly Hypothesis[] {
  const letters = Object.keys(part.leads).map(leadLetter).join('');
  return ordersOf(letters)
    .filter((order) => order !== letters)
    .map((order) => {
      const apply = (circuit: Circuit): Circuit =>
        replaced(circuit, part.ref, (each) => {
          const typed = each as TypedPart;
          const nodes = Object.values(typed.leads);
          const leads = Object.keys(typed.leads).map((lead): [string, string] => [
            lead,
            nodes[order.indexOf(leadLetter(lead))] ?? '',
          ]);
          return { ...typed, leads: Object.fromEntries(leads) };
        });
      const words = `in the wrong way: ${order} in the holes of ${letters}`;
      return made(maker, 'wrong_insertion', words, order, null, [{ values: [null], apply }]);
    });
}

function weak(maker: Maker, part: TypedPart, typeAt: (factor: number) => PartType): readonly Hypothesis[] {
  return [typeRun(maker, part, 'weak', 'weak: little current left', grids.weak, typeAt)];
}

/** The value of each case is the factor. */
function typeRun(
  maker: Maker,
  part: TypedPart,
  kind: FaultKind,
  words: string,
  factors: readonly number[],
  typeAt: (factor: number) => PartType,
): Hypothesis {
  const apply: Run['apply'] = (circuit, factor) =>
    replaced(circuit, part.ref, (each) => ({ ...(each as TypedPart), type: typeAt(factor ?? 1) }));
  return made(maker, kind, words, '', null, [{ values: factors, apply }]);
}

/** The output held by one of the supplies: what a burnt output stage does; Ω from memory. */
const stuckOhms = 100;

function stuck(maker: Maker, part: TypedPart): readonly Hypothesis[] {
  const { out = '' } = part.leads;
  return (part.rails ?? []).map((rail) => {
    const { ref, position, channel, place } = part;
    const apply = (circuit: Circuit): Circuit => ({
      ...agePart(circuit, ref, { kind: 'open' }),
      parts: [
        ...agePart(circuit, ref, { kind: 'open' }).parts,
        { kind: 'resistor', ref: `${ref}.${rail}`, position, channel, place, ohms: stuckOhms, between: [out, rail] },
      ],
    });
    return made(maker, 'stuck', `output stuck at ${rail}`, rail, null, [{ values: [null], apply }]);
  });
}

export function replaced(circuit: Circuit, ref: string, change: (part: Part) => Part): Circuit {
  return { ...circuit, parts: circuit.parts.map((each) => (each.ref === ref ? change(each) : each)) };
}

function aged(ref: string, values: readonly number[], faultAt: (value: number) => Fault): Run {
  return { values, apply: (circuit, value) => agePart(circuit, ref, faultAt(value ?? NaN)) };
}

function sure(maker: Maker, kind: FaultKind, words: string, detail: string, fault: Fault): Hypothesis {
  const { ref } = maker.part;
  return made(maker, kind, words, detail, null, [{ values: [null], apply: (circuit) => agePart(circuit, ref, fault) }]);
}

function fitted(
  maker: Maker,
  kind: FaultKind,
  words: string,
  detail: string,
  unit: Hypothesis['unit'],
  values: readonly number[],
  faultAt: (value: number) => Fault,
): Hypothesis {
  return made(maker, kind, words, detail, unit, values.length === 0 ? [] : [aged(maker.part.ref, values, faultAt)]);
}

/** The same without a unit. */
function plain(
  maker: Maker,
  kind: FaultKind,
  words: string,
  values: readonly number[],
  faultAt: (value: number) => Fault,
): Hypothesis {
  return fitted(maker, kind, words, '', null, values, faultAt);
}

function made(
  { circuit, part, priors }: Maker,
  kind: FaultKind,
  words: string,
  detail: string,
  unit: Hypothesis['unit'],
  runs: Hypothesis['runs'],
): Hypothesis {
  return {
    refs: [part.ref],
    kind,
    words,
    unit,
    weight: priorOf(priors, kind, part),
    runs,
    signature: `${kind} ${words} ${detail} ${placeToken(circuit, part)}`,
  };
}
