import { agePart, leadsOf, type Circuit, type LeadPlace, type NodeName, type Part } from '@curvewright/board';
import { mainValue } from '../part-value.ts';
import { placeToken, type Hypothesis } from './hypothesis.ts';
import { replaced } from './fault-makers.ts';
import type { Priors } from './priors.ts';

/** Leads on one node beyond which the ways to cut it are not told apart any more. */
const mostLeads = 6;

interface PlacedLead extends LeadPlace {
  readonly part: Part;
}

/** Cracks in the track of a node that cut off more than one lead; one lead alone is that part's own open. */
export function trackFaults(circuit: Circuit, priors: Priors): readonly Hypothesis[] {
  const byNode = new Map<NodeName, PlacedLead[]>();
  for (const part of circuit.parts) {
    for (const [lead, node] of Object.entries(leadsOf(part))) {
      const there = byNode.get(node) ?? [];
      byNode.set(node, there);
      there.push({ part, position: part.position, lead });
    }
  }
  return [...byNode].flatMap(([node, leads]) => {
    if (node === 'gnd') return [];
    const cuts = node.includes('@') ? cutsOf(leads) : channelCuts(circuit, leads);
    return cuts.map((beyond): Hypothesis => {
      const [first, ...others] = beyond;
      const names = beyond.map(({ part, lead }) => `${part.ref}.${lead}`);
      const tokens = beyond.map(({ part, lead }) => `${placeToken(circuit, part)}.${lead}`);
      return {
        refs: [...new Set(beyond.map(({ part }) => part.ref))],
        kind: 'cracked_track',
        words: `track cracked before ${names.join(', ')}`,
        unit: null,
        weight: priors.cracked_track / cuts.length,
        runs: [
          {
            values: [null],
            apply: (whole) =>
              agePart(whole, first!.part.ref, { kind: 'cracked_track', lead: first!.lead, beyond: others }),
          },
        ],
        signature: `cracked_track ${tokens.join(' ')}`,
      };
    });
  });
}

/** Two leads or more on either side; of the two sides the one that leaves the first lead where it was. */
function cutsOf(leads: readonly PlacedLead[]): readonly (readonly PlacedLead[])[] {
  if (leads.length < 4 || leads.length > mostLeads) return [];
  const cuts: PlacedLead[][] = [];
  for (let bits = 0; bits < 2 ** (leads.length - 1); bits++) {
    const beyond = leads.filter((_, n) => n > 0 && (bits & (1 << (n - 1))) !== 0);
    if (beyond.length >= 2 && beyond.length <= leads.length - 2) cuts.push(beyond);
  }
  return cuts;
}

/** A shared track leads to one channel after the other. */
function channelCuts(circuit: Circuit, leads: readonly PlacedLead[]): readonly (readonly PlacedLead[])[] {
  return circuit.channels.flatMap(({ name }) => {
    const beyond = leads.filter(({ part }) => part.channel === name);
    return beyond.length >= 2 && beyond.length < leads.length ? [beyond] : [];
  });
}

/** Values nearer than this could be exchanged unnoticed. */
const apart = 1.25;

/** Two resistors or two capacitors of one channel in each other's places. */
export function exchanges(circuit: Circuit, priors: Priors): readonly Hypothesis[] {
  const parts = circuit.parts.filter(({ kind }) => kind === 'resistor' || kind === 'capacitor');
  return parts.flatMap((first, n) =>
    parts.slice(n + 1).flatMap((second): Hypothesis[] => {
      const [a, b] = [mainValue(first), mainValue(second)];
      if (first.kind !== second.kind || first.channel !== second.channel) return [];
      if (a === null || b === null || a === 0 || b === 0 || Math.max(a / b, b / a) < apart) return [];
      const apply = (whole: Circuit): Circuit =>
        replaced(
          replaced(whole, first.ref, (each) => ({ ...second, ...seatOf(each) }) as Part),
          second.ref,
          (each) => ({ ...first, ...seatOf(each) }) as Part,
        );
      return [
        {
          refs: [first.ref, second.ref],
          kind: 'exchanged',
          words: `${first.ref} and ${second.ref} exchanged`,
          unit: null,
          weight: priors.exchanged,
          runs: [{ values: [null], apply }],
          signature: `exchanged ${placeToken(circuit, first)} ${placeToken(circuit, second)}`,
        },
      ];
    }),
  );
}

/** What stays with a place when another part is put there. */
function seatOf(part: Part): Partial<Part> {
  const { ref, position, channel, place } = part;
  const named = { ref, position, channel, place };
  if (part.kind === 'resistor') return { ...named, between: part.between };
  return part.kind === 'capacitor'
    ? { ...named, plus: part.plus, minus: part.minus, polarised: part.polarised }
    : named;
}

/** Of a rail's volts. */
const supplyFactors = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.87, 1.13, 1.2, 1.3, 1.5];

/** Supplies that are not what they ought to be. */
export function supplyFaults(circuit: Circuit, priors: Priors): readonly Hypothesis[] {
  return circuit.rails.map(({ node, volts }): Hypothesis => ({
    refs: [node],
    kind: 'supply',
    words: 'the supply is off',
    unit: 'V',
    weight: priors.supply,
    // Values run with their magnitude, whatever the sign of the rail.
    runs: [
      {
        values: supplyFactors.map((factor) => factor * volts),
        apply: (whole, value) => ({
          ...whole,
          rails: whole.rails.map((rail) => (rail.node === node ? { ...rail, volts: value ?? volts } : rail)),
        }),
      },
    ],
    signature: `supply ${node}`,
  }));
}
