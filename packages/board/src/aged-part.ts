import type { Capacitor, Circuit, NodeName, Part, Resistor, TypedPart } from './circuit.ts';
import { faultMismatch } from './fault-mismatch.ts';
import { leadsOfJunction, type Fault, type LeadPlace } from './fault.ts';
import { leadsOf, nodeOfLead, twoLeads, withLeadOn } from './leads.ts';
import type { BipolarType } from './part-type.ts';
import { withValue } from './part-value.ts';

/**
 * Ω over what is open, be it a part, a joint or a track: what flux and a dusty surface leak, an order of magnitude, common practice, no
 * source. It holds the nodes that nothing else holds any more, and changes no other by what a meter could read.
 */
const overTheGap = 100e9;

/**
 * Leads that take no current of their own. Behind a gap nothing holds them: a leakage that no current loads would hand on the voltage as
 * if the gap were not there. So they are left floating, and no bias is computed for them.
 */
const currentless: readonly string[] = ['gate', 'grid', 'plus', 'minus'];

/**
 * The circuit with one fault in one part. What a fault adds is named after the part: `Q101.base` is both the node of a lead that came off
 * its own node and the resistance between the two, `Q101.base_emitter` the short of a junction. The leads of a track that cracked are
 * those of `beyond` that stand on the same node in this circuit. A lead comes off once: what comes first counts. Throws where there is no
 * such part, or it cannot have the fault.
 */
export function agePart(circuit: Circuit, ref: string, fault: Fault): Circuit {
  const part = circuit.parts.find((each) => each.ref === ref);
  if (part === undefined) throw new RangeError(`there is no part ${ref}`);
  const mismatch = faultMismatch(part, fault);
  if (mismatch !== null) throw new RangeError(mismatch);
  const become = (...parts: readonly Part[]): Circuit => ({
    ...circuit,
    parts: circuit.parts.flatMap((each) => (each === part ? parts : [each])),
  });
  switch (fault.kind) {
    case 'open':
      return part.kind === 'switch' ? cutOff(circuit, part, 'pole', null) : become(...gapsOf(circuit, part));
    case 'short':
      return become(linkOf(part, part.ref, endsOf(part), 0));
    case 'dried':
      return become(dried(part as Capacitor, fault.value, fault.esr));
    case 'leaky':
      return become({ ...(part as Capacitor), leakage: fault.ohms });
    case 'drifted':
      return become(withValue(part, fault.value));
    case 'leaky_transistor':
      return become(ofType(part, { ICBO: fault.ICBO }));
    case 'low_hFE':
      return become(ofType(part, { hFE: [{ value: fault.hFE, at: 0 }] }));
    case 'noisy':
      return become(ofType(part, { noiseCorner: fault.corner }));
    case 'junction_open':
      return cutOff(circuit, part, leadsOfJunction(fault.junction)[1], null);
    case 'junction_short': {
      const [first, second] = leadsOfJunction(fault.junction);
      const between = [nodeOfLead(part, first), nodeOfLead(part, second)] as const;
      return between[0] === between[1] ? circuit : become(part, linkOf(part, `${ref}.${fault.junction}`, between, 0));
    }
    case 'open_joint':
      return cutOff(circuit, part, fault.lead, null);
    case 'contact':
      return cutOff(circuit, part, fault.lead, fault.ohms);
    case 'cracked_track':
      return cutOff(circuit, part, fault.lead, null, fault.beyond);
    case 'wiper_open':
      return become(...withoutWiper(circuit, part));
  }
}

function dried({ esrAt: _, ...part }: Capacitor, farads: number, esr: number): Capacitor {
  return { ...part, farads, esr };
}

function ofType(part: Part, figures: Partial<BipolarType>): Part {
  const typed = part as TypedPart & { readonly type: BipolarType };
  return { ...typed, type: { ...typed.type, ...figures } };
}

/** Between the ends lies the whole track; a variable resistor is joined to its track by the wiper alone. */
function withoutWiper(circuit: Circuit, part: Part): readonly Part[] {
  if (part.kind !== 'trimmer' || part.wiper === undefined) return gapsOf(circuit, part);
  return [linkOf(part, part.ref, part.between, part.ohms)];
}

/**
 * The part's lead, and those `beyond` that stand on the same node, on a node of their own, with `ohms` from it to the old one; null: a
 * crack, which is nothing at all where no lead beyond it takes a current.
 */
function cutOff(
  circuit: Circuit,
  part: Part,
  lead: string,
  ohms: number | null,
  beyond: readonly LeadPlace[] = [],
): Circuit {
  const pad = nodeOfLead(part, lead);
  const name = `${part.ref}.${lead}`;
  const island = part.channel === null ? name : `${name}@${part.channel}`;
  if (pad === island) return circuit;
  const cut = (each: Part): readonly string[] => {
    const there = beyond.filter(({ position }) => position === each.position).map((place) => place.lead);
    const leads = each.ref === part.ref ? [...there, lead] : there;
    return leads.filter((one) => leadsOf(each)[one] === pad);
  };
  const moved = circuit.parts.map((each) => cut(each).reduce((so, one) => withLeadOn(so, one, island), each));
  const holds = circuit.parts.some((each) => cut(each).some((one) => takesCurrent(each, one)));
  const link = ohms !== null || holds ? [linkOf(part, name, [pad, island], ohms ?? overTheGap)] : [];
  return {
    ...circuit,
    parts: moved.flatMap((each) => (each.ref === part.ref ? [each, ...link] : [each])),
    common: part.channel === null ? [...circuit.common, island] : circuit.common,
  };
}

/** What is left of an open part: a gap from its first lead to each of the others. */
function gapsOf(circuit: Circuit, part: Part): readonly Part[] {
  const others = circuit.parts.filter((each) => each !== part);
  const isHeld = (node: NodeName): boolean =>
    node === 'gnd' ||
    circuit.rails.some((rail) => rail.node === node) ||
    circuit.channels.some((channel) => channel.input === node || channel.output === node) ||
    others.some((each) => Object.entries(leadsOf(each)).some(([lead, at]) => at === node && takesCurrent(each, lead)));
  const [[, first] = ['', ''], ...rest] = Object.entries(leadsOf(part)).filter(([, node]) => isHeld(node));
  return rest
    .filter(([, node]) => node !== first)
    .map(([lead, node]) =>
      linkOf(part, rest.length === 1 ? part.ref : `${part.ref}.${lead}`, [first, node], overTheGap),
    );
}

function takesCurrent(part: Part, lead: string): boolean {
  return part.kind !== 'typed' || !currentless.includes(lead);
}

function endsOf(part: Part): readonly [NodeName, NodeName] {
  const ends = twoLeads(part);
  if (ends === null) throw new RangeError(`${part.ref} has not two leads`);
  return ends;
}

function linkOf(part: Part, ref: string, between: readonly [NodeName, NodeName], ohms: number): Resistor {
  const { position, channel, place } = part;
  return { kind: 'resistor', ref, position, channel, place, ohms, between };
}
