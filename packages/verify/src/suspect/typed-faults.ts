import {
  agePart,
  faultMismatch,
  junctionNames,
  leadLetter,
  type Circuit,
  type Fault,
  type FaultKind,
  type PartType,
  type TypedPart,
} from '@curvewright/board';
import { ordersOf } from '../fit/insertions.ts';
import { ends } from './ends.ts';
import { fitted, grids, made, plain, replaced, sure, type Maker } from './fault-makers.ts';
import type { Hypothesis, Run } from './hypothesis.ts';

/** Everything that can be wrong with a semiconductor or a valve. */
export function typedFaults(maker: Maker, part: TypedPart): readonly Hypothesis[] {
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
    return faultMismatch(part, short) === null ? [sure(maker, 'junction_short', `${name} short`, junction, short)] : [];
  });
  return [...joints(maker, part), ...junctions, ...insertions(maker, part)];
}

/** A bond inside, a joint or a socket's contact: open, or with ohms of its own. */
function joints(maker: Maker, part: TypedPart): readonly Hypothesis[] {
  const inside = ['npn', 'pnp', 'jfet-n', 'jfet-p'].includes(part.type.kind);
  return Object.keys(part.leads).flatMap((lead) => [
    openLead(
      maker,
      lead,
      inside ? 'junction_open' : 'open_joint',
      `${lead} open${inside ? ', inside or at its joint' : ''}`,
    ),
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
