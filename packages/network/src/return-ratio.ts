import type { Circuit, NodeName, Part } from '@curvewright/board';
import type { Network } from './network.ts';
import { frequencySolver } from './response.ts';
import { linearise } from './linearise.ts';
import type { OperatingPoint } from './bias.ts';

/** A loop is looked into at one lead of one part. */
export interface LoopLead {
  readonly ref: string;
  readonly lead: string;
}

/** Leads by which a signal leaves a part; into every other one it goes. */
const leaving: ReadonlySet<string> = new Set(['collector', 'emitter', 'drain', 'source', 'anode', 'cathode', 'out']);

/** The circuit with a link of 0 Ω between the lead and its node, where signals can be put in; null where the part or its lead is not there. */
export function withLoopLink(circuit: Circuit, at: LoopLead): Circuit | null {
  const part = circuit.parts.find(({ ref }) => ref === at.ref);
  if (part?.kind !== 'typed') return null;
  const node = part.leads[at.lead];
  if (node === undefined || node === 'gnd') return null;
  const inner = linkName(at);
  const moved: Part = { ...part, leads: { ...part.leads, [at.lead]: inner } };
  const { position, channel, place } = part;
  const between: readonly [NodeName, NodeName] = [node, inner];
  const link: Part = { kind: 'resistor', ref: inner, position, channel, place, ohms: 0, between };
  return { ...circuit, parts: [...circuit.parts.map((each) => (each === part ? moved : each)), link] };
}

function linkName({ ref, lead }: LoopLead): string {
  return `${ref}.${lead}`;
}

/** The return ratio T (re, im) at a frequency in Hz, positive where feedback is negative; null where the network is singular. */
export type ReturnRatio = (hz: number) => readonly [number, number] | null;

/**
 * Double injection (R. D. Middlebrook, Int. J. Electronics 38, 1975; from memory): a voltage in series with the lead gives Tv = −(what comes
 * back) / (what goes on), a current into the lead's node likewise gives Ti, and T = (Tv·Ti − 1) / (Tv + Ti + 2), whatever impedances meet
 * there. `network` is that of a circuit with the link.
 */
export function returnRatio(network: Network, point: OperatingPoint, at: LoopLead): ReturnRatio {
  const link = network.branches.find(({ ref }) => ref === linkName(at));
  if (link === undefined) throw new Error(`${linkName(at)} has no link in this network`);
  const solver = frequencySolver(linearise(network, point));
  const x = new Float64Array(2 * network.size);
  const [back, on] = leaving.has(at.lead) ? [link.b, link.a] : [link.a, link.b];
  const inward = back === link.a ? 1 : -1;
  const read = (u: number): Complex => [x[2 * u]!, x[2 * u + 1]!];
  return (hz) => {
    if (!solver.setFrequency(hz)) return null;
    x.fill(0);
    x[2 * link.current] = 1;
    solver.solve(x);
    const [comes, goes] = [negative(read(back)), read(on)];
    x.fill(0);
    x[2 * on] = 1;
    solver.solve(x);
    const [re, im] = read(link.current);
    const through: Complex = [inward * re, inward * im];
    const [taken, given] = [negative(through), [1 + through[0], through[1]] satisfies Complex];
    const above = minus(times(comes, taken), times(goes, given));
    const below = plus(plus(times(comes, given), times(taken, goes)), times([2, 0], times(goes, given)));
    return over(above, below);
  };
}

type Complex = readonly [number, number];

function negative([re, im]: Complex): Complex {
  return [-re, -im];
}

function plus(a: Complex, b: Complex): Complex {
  return [a[0] + b[0], a[1] + b[1]];
}

function minus(a: Complex, b: Complex): Complex {
  return [a[0] - b[0], a[1] - b[1]];
}

function times(a: Complex, b: Complex): Complex {
  return [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]];
}

function over(a: Complex, b: Complex): Complex {
  const norm = b[0] * b[0] + b[1] * b[1];
  return [(a[0] * b[0] + a[1] * b[1]) / norm, (a[1] * b[0] - a[0] * b[1]) / norm];
}
