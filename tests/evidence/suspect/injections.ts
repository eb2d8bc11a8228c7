import {
  agePart,
  faultMismatch,
  junctionNames,
  leadsOf,
  type Circuit,
  type Fault,
  type Part,
  type TypedPart,
} from '@curvewright/board';

/** A number from 0 to 1, both excluded. */
export type Random = () => number;

export interface Injection {
  readonly ref: string;
  /** As the table of results names it. */
  readonly kind: string;
  readonly words: string;
  readonly apply: (circuit: Circuit) => Circuit;
}

const log = (random: Random, low: number, high: number): number => low * (high / low) ** random();

/** One of each fault that a part can have, its figures drawn from what a bench meets. */
export function injectionsOf(part: Part, random: Random): readonly Injection[] {
  const leads = Object.keys(leadsOf(part));
  const value =
    part.kind === 'capacitor' ? part.farads : part.kind === 'inductor' ? part.henries : 'ohms' in part ? part.ohms : 0;
  const wet = part.kind === 'capacitor' && ['aluminium', 'aluminium_bipolar', 'tantalum'].includes(part.build ?? '');
  const drift = (direction: 1 | -1): Fault => ({ kind: 'drifted', value: value * log(random, 1.5, 5) ** direction });
  const hFE = part.kind === 'typed' && 'hFE' in part.type ? (part.type.hFELow ?? part.type.hFE[0]!.value) : NaN;
  const leakage = Math.min(2e6, (part.kind === 'capacitor' ? (part.leakage ?? Infinity) : Infinity) / 4);
  const faults: readonly (readonly [string, Fault])[] = [
    ['open', { kind: 'open' }],
    ['short', { kind: 'short' }],
    ...(wet
      ? [['dried', { kind: 'dried', value: value * log(random, 0.04, 0.6), esr: log(random, 1, 300) }] as const]
      : ([
          ['drifted', drift(1)],
          ['drifted', drift(-1)],
        ] as const)),
    ['leaky', { kind: 'leaky', ohms: log(random, 2e3, leakage) }],
    ['leaky transistor', { kind: 'leaky_transistor', ICBO: log(random, 0.3e-6, 50e-6) }],
    ['low hFE', { kind: 'low_hFE', hFE: hFE * log(random, 0.05, 0.6) }],
    ['noisy', { kind: 'noisy', corner: 20e3 }],
    ...junctionNames.map((junction) => ['junction short', { kind: 'junction_short', junction }] as const),
    ...junctionNames.map((junction) => ['junction open', { kind: 'junction_open', junction }] as const),
    ...leads.map((lead) => ['open joint', { kind: 'open_joint', lead }] as const),
    ...leads.map((lead) => ['contact', { kind: 'contact', lead, ohms: log(random, 100, 30e3) }] as const),
    ['wiper open', { kind: 'wiper_open' }],
  ];
  const aged = faults
    .filter(([, fault]) => faultMismatch(part, fault) === null)
    .map(([kind, fault]): Injection => ({
      ref: part.ref,
      kind,
      words: JSON.stringify(fault),
      apply: (circuit) => agePart(circuit, part.ref, fault),
    }));
  return [...aged, ...insertionsOf(part)];
}

function insertionsOf(part: Part): readonly Injection[] {
  if (part.kind !== 'typed' || !['npn', 'pnp', 'jfet-n', 'jfet-p'].includes(part.type.kind)) return [];
  const names = Object.keys(part.leads);
  const nodes = Object.values(part.leads);
  const turns = [
    [0, 2, 1],
    [1, 0, 2],
    [1, 2, 0],
    [2, 0, 1],
    [2, 1, 0],
  ];
  return turns.map((turn): Injection => ({
    ref: part.ref,
    kind: 'wrong insertion',
    words: turn.join(''),
    apply: (circuit) => ({
      ...circuit,
      parts: circuit.parts.map((each) =>
        each.ref === part.ref
          ? ({ ...each, leads: Object.fromEntries(names.map((name, n) => [name, nodes[turn[n]!]!])) } as TypedPart)
          : each,
      ),
    }),
  }));
}
