import type { PartType } from './part-type.ts';

/** One thing that is wrong with a part, its joints or the track at one of its leads; figures in SI units. */
export type Fault =
  /** Nothing of it conducts any more. */
  | { readonly kind: 'open' }
  /** Both leads of a two-lead part are one. */
  | { readonly kind: 'short' }
  /** A capacitor that lost electrolyte: F and Ω of ESR that are left. */
  | { readonly kind: 'dried'; readonly value: number; readonly esr: number }
  /** A capacitor with Ω across its leads. */
  | { readonly kind: 'leaky'; readonly ohms: number }
  /** The main value moved: Ω, F or H. */
  | { readonly kind: 'drifted'; readonly value: number }
  /** A bipolar transistor's collector-base leakage, A at 25 °C. */
  | { readonly kind: 'leaky_transistor'; readonly ICBO: number }
  /** The same at every current. */
  | { readonly kind: 'low_hFE'; readonly hFE: number }
  /** Hz where 1/f noise of a bipolar transistor's base current equals its shot noise. */
  | { readonly kind: 'noisy'; readonly corner: number }
  | { readonly kind: 'junction_open'; readonly junction: JunctionName }
  /** Of a bipolar transistor or JFET; a channel that is punched through counts as a junction here. */
  | { readonly kind: 'junction_short'; readonly junction: JunctionName }
  | JointFault
  /** A trimmer's wiper that does not touch its track. */
  | { readonly kind: 'wiper_open' };

/** What is wrong outside the part, and right again once a joint is soldered, a contact cleaned or a track bridged. */
export type JointFault =
  | { readonly kind: 'open_joint'; readonly lead: string }
  /** Ω that a joint, plug or selector contact puts in series with a lead. */
  | { readonly kind: 'contact'; readonly lead: string; readonly ohms: number }
  /** The lead and those `beyond` the crack stay joined, cut off from the rest of their node. */
  | { readonly kind: 'cracked_track'; readonly lead: string; readonly beyond: readonly LeadPlace[] };

/** A lead of whatever stands in a position of the board. */
export interface LeadPlace {
  readonly position: string;
  readonly lead: string;
}

/** Pairs of leads, as a job writes them. */
export const junctionNames = [
  'base_emitter',
  'base_collector',
  'collector_emitter',
  'gate_source',
  'gate_drain',
  'drain_source',
] as const;
export type JunctionName = (typeof junctionNames)[number];

/** For each junction its two leads; the second is the one whose bond is open where the junction is. */
const junctionLeads: Readonly<Record<JunctionName, readonly [string, string]>> = {
  base_emitter: ['base', 'emitter'],
  base_collector: ['base', 'collector'],
  collector_emitter: ['collector', 'emitter'],
  gate_source: ['gate', 'source'],
  gate_drain: ['gate', 'drain'],
  drain_source: ['drain', 'source'],
};

export function leadsOfJunction(junction: JunctionName): readonly [string, string] {
  return junctionLeads[junction];
}

/** The junctions of a kind of type that may be open, or short; an open channel is no junction. */
export function junctionsOf(kind: PartType['kind'], fault: 'open' | 'short'): readonly JunctionName[] {
  const all = junctionNames.filter((name) => {
    const ofJfet = name.includes('gate') || name.includes('drain');
    return kind === 'npn' || kind === 'pnp' ? !ofJfet : (kind === 'jfet-n' || kind === 'jfet-p') && ofJfet;
  });
  return fault === 'short' ? all : all.filter((name) => name !== 'collector_emitter' && name !== 'drain_source');
}

/** Whether a fault lies in a joint, a contact or a track, so that mending it leaves the part as it is. */
export function isJointFault(fault: Fault): fault is JointFault {
  return fault.kind === 'open_joint' || fault.kind === 'contact' || fault.kind === 'cracked_track';
}
