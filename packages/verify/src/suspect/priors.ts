import type { FaultKind, Part } from '@curvewright/board';

/** How often each kind of fault is met on old boards, over the others: common practice, no source. A job's `priors` replace them. */
export type Priors = Readonly<Record<FaultKind, number>>;

export const usualPriors: Priors = {
  open: 3,
  short: 1,
  dried: 8,
  leaky: 6,
  drifted: 4,
  wrong_value: 0.5,
  contact: 2,
  junction_open: 2,
  junction_short: 1.5,
  open_joint: 1.5,
  low_hFE: 2,
  high_hFE: 0.5,
  leaky_transistor: 3,
  noisy: 4,
  weak: 4,
  stuck: 3,
  wrong_insertion: 0.2,
  exchanged: 0.05,
  wiper_open: 3,
  cracked_track: 0.3,
  supply: 3,
};

/** That nothing is wrong, before anything is measured: even odds, so that readings decide. */
export const healthyShare = 0.5;

/** Electrolytes dry and leak; films and stacked mica hardly do; resistors go high or open and next to never short. Common practice, no source. */
const byBuild: Readonly<Record<string, Partial<Readonly<Record<FaultKind, number>>>>> = {
  tantalum: { short: 3, leaky: 1.5, dried: 0.3 },
  film: { leaky: 0.2, short: 0.3, drifted: 0.3, contact: 0.3 },
  polystyrene: { leaky: 0.2, short: 0.3, drifted: 0.3, contact: 0.3 },
  mica: { leaky: 0.3, short: 0.2, drifted: 0.2, contact: 0.3 },
  ceramic1: { leaky: 0.3, short: 0.5, drifted: 0.3, contact: 0.3 },
  ceramic2: { leaky: 0.5, short: 0.7, drifted: 0.5, contact: 0.3 },
  carbon_composition: { drifted: 2, short: 0.05 },
  carbon_film: { short: 0.1 },
  metal_film: { drifted: 0.5, short: 0.1 },
  wirewound: { drifted: 0.3, short: 0.1 },
};

/** The weight of one kind of fault in one part. */
export function priorOf(priors: Priors, kind: FaultKind, part: Part): number {
  const build = part.kind === 'resistor' || part.kind === 'capacitor' ? part.build : undefined;
  const usual = part.kind === 'resistor' && build === undefined ? 'carbon_film' : build;
  return priors[kind] * (usual === undefined ? 1 : (byBuild[usual]?.[kind] ?? 1));
}
