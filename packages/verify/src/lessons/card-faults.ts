import { agePart, type Circuit, type Fault, type Part } from '@curvewright/board';
import { taughtParts, type LessonBench } from './lesson-bench.ts';
import { isBipolar } from './transistor-gain.ts';
import { withLeadsIn } from './turned-leads.ts';

/** What can be wrong on a fault card, in the words of the card. */
export type CardFault = 'dried' | 'leaky' | 'open' | 'short' | 'low hFE' | 'noisy' | 'turned round';

/** One part with one fault. */
export interface CardSuspect {
  readonly ref: string;
  readonly fault: CardFault;
}

/** What a fault leaves of a part: of an electrolytic's value, Ω of its ESR and of a leakage, hFE, Hz of 1/f noise; common practice, no source. */
const worn = { value: 0.15, esr: 40, leakage: 100e3, hFE: 30, corner: 30e3 };

/** Below this, F, a capacitor belongs to the equaliser or to the radio frequencies. */
const least = 50e-9;

/** Everything of the taught channel that a card may have wrong, in the board's order. */
export function cardSuspects(bench: LessonBench): readonly CardSuspect[] {
  return taughtParts(bench).flatMap((part) => faultsOf(part).map((fault) => ({ ref: part.ref, fault })));
}

function faultsOf(part: Part): readonly CardFault[] {
  if (part.kind === 'capacitor') {
    if (part.farads < least) return ['open'];
    return isWet(part.build) ? ['dried', 'leaky'] : ['open', 'leaky'];
  }
  if (isBipolar(part)) {
    const hasHoles = part.seat?.holes !== undefined || part.type.caseLeads !== undefined;
    return [
      'low hFE',
      ...(part.type.noiseCorner === undefined ? [] : ['noisy' as const]),
      ...(hasHoles ? ['turned round' as const] : []),
    ];
  }
  if (part.kind !== 'typed') return [];
  return part.type.kind === 'diode' || part.type.kind === 'zener' ? ['short', 'open'] : [];
}

/** Whether a capacitor belongs to the equaliser or to the radio frequencies. */
export function isSmall(bench: LessonBench, ref: string): boolean {
  return taughtParts(bench).some((part) => part.ref === ref && part.kind === 'capacitor' && part.farads < least);
}

function isWet(build: string | undefined): boolean {
  return build !== undefined && ['aluminium', 'aluminium_bipolar', 'tantalum'].includes(build);
}

/** The board with the suspect's fault. */
export function withFault({ stage: { circuit } }: LessonBench, { ref, fault }: CardSuspect): Circuit {
  const part = circuit.parts.find((each) => each.ref === ref);
  if (part === undefined) throw new RangeError(`there is no part ${ref}`);
  if (fault === 'turned round') {
    const holes = part.kind === 'typed' ? (part.seat?.holes ?? part.type.caseLeads?.order) : undefined;
    if (part.kind !== 'typed' || holes === undefined) throw new RangeError(`${ref} stands in no holes of its own`);
    return withLeadsIn(circuit, part, holes, [...holes].reverse().join(''));
  }
  return agePart(circuit, ref, faultIn(part, fault));
}

function faultIn(part: Part, fault: Exclude<CardFault, 'turned round'>): Fault {
  switch (fault) {
    case 'dried':
      return { kind: 'dried', value: part.kind === 'capacitor' ? part.farads * worn.value : 0, esr: worn.esr };
    case 'leaky':
      return { kind: 'leaky', ohms: worn.leakage };
    case 'low hFE':
      return { kind: 'low_hFE', hFE: worn.hFE };
    case 'noisy':
      return { kind: 'noisy', corner: worn.corner };
    case 'open':
    case 'short':
      return { kind: fault };
  }
}
