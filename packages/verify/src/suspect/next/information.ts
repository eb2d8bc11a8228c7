import type { Component } from './outlook.ts';

/** Places of a number line on which a reading is told, at most. */
const mostBins = 3000;

/** Standard deviations of a component that are looked at. */
const reach = 4;

/**
 * Mutual information between a reading and who it would be, in bits: what the reading is worth on average (Lindley, Ann. Math. Stat. 27, 1956). Both
 * entropies are summed over one number line, in steps of half the smallest standard deviation.
 */
export function readingBits(components: readonly Component[]): number {
  const low = Math.min(...components.map(({ mean, sigma }) => mean - reach * sigma));
  const high = Math.max(...components.map(({ mean, sigma }) => mean + reach * sigma));
  const finest = Math.min(...components.map(({ sigma }) => sigma));
  const step = Math.max(finest / 2, (high - low) / mostBins);
  const bins = Math.ceil((high - low) / step) + 1;
  const all = new Float64Array(bins);
  const own = new Float64Array(bins);
  const total = components.reduce((sum, { weight }) => sum + weight, 0);
  let apart = 0;
  for (const group of groupsOf(components)) {
    let [from, to] = [bins, 0];
    let weight = 0;
    for (const component of group) {
      const first = Math.max(0, Math.floor((component.mean - reach * component.sigma - low) / step));
      const last = Math.min(bins - 1, Math.ceil((component.mean + reach * component.sigma - low) / step));
      addBell(own, component, { low, step, first, last, total });
      from = Math.min(from, first);
      to = Math.max(to, last);
    }
    for (let b = from; b <= to; b++) weight += own[b]!;
    for (let b = from; b <= to; b++) {
      const mass = own[b]!;
      if (mass > 0) apart += mass * Math.log2(mass / weight);
      all[b] = all[b]! + mass;
      own[b] = 0;
    }
  }
  let together = 0;
  for (const mass of all) if (mass > 0) together += mass * Math.log2(mass);
  return Math.max(0, apart - together);
}

function groupsOf(components: readonly Component[]): Iterable<readonly Component[]> {
  const groups = new Map<string, Component[]>();
  for (const each of components) {
    const group = groups.get(each.label) ?? [];
    groups.set(each.label, group);
    group.push(each);
  }
  return groups.values();
}

/** Sum over the places below which a bell lies between two of them. */
const narrow = 1e-6;

/** A bell of `weight/total`, whole even where its reach is a few places. */
function addBell(
  bins: Float64Array,
  { mean, sigma, weight }: Component,
  { low, step, first, last, total }: { low: number; step: number; first: number; last: number; total: number },
): void {
  let sum = 0;
  for (let b = first; b <= last; b++) sum += Math.exp(-0.5 * ((low + b * step - mean) / sigma) ** 2);
  if (sum < narrow) {
    const nearest = Math.round((mean - low) / step);
    bins[nearest] = bins[nearest]! + weight / total;
    return;
  }
  const scale = weight / total / sum;
  for (let b = first; b <= last; b++) {
    bins[b] = bins[b]! + scale * Math.exp(-0.5 * ((low + b * step - mean) / sigma) ** 2);
  }
}

/** One hypothesis of a trial with two outcomes. */
export interface TrialChance {
  readonly label: string;
  readonly weight: number;
  /** Probability of the first outcome. */
  readonly chance: number;
}

/** The same for an outcome that is one of two. */
export function trialBits(chances: readonly TrialChance[]): number {
  const total = chances.reduce((sum, { weight }) => sum + weight, 0);
  const labels = new Map<string, { weight: number; first: number }>();
  for (const { label, weight, chance } of chances) {
    const own = labels.get(label) ?? { weight: 0, first: 0 };
    labels.set(label, own);
    own.weight += weight / total;
    own.first += (weight / total) * chance;
  }
  const whole = [...labels.values()].reduce((sum, { first }) => sum + first, 0);
  const entropy = (p: number): number => (p <= 0 || p >= 1 ? 0 : -p * Math.log2(p) - (1 - p) * Math.log2(1 - p));
  const left = [...labels.values()].reduce((sum, { weight, first }) => sum + weight * entropy(first / weight), 0);
  return Math.max(0, entropy(whole) - left);
}
