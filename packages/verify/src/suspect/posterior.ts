import type { Catalogue } from './catalogue.ts';
import type { Entry } from './entry.ts';
import { healthyShare } from './priors.ts';
import { refined } from './refine.ts';
import { logSum, type BestFit, type Weigher, type WeightedPoint } from './weigh.ts';

/** What readings make of one hypothesis. */
export interface Believed {
  /** The catalogue's, or one with more cases, which `best` speaks of. */
  readonly entry: Entry;
  readonly best: BestFit;
  readonly points: readonly WeightedPoint[];
  /** ln of prior times likelihood. */
  readonly log: number;
}

export interface Beliefs {
  /** That nothing is wrong. */
  readonly healthy: { readonly log: number; readonly square: number };
  /** In the order of the catalogue's entries. */
  readonly entries: readonly Believed[];
}

/** ln of what else speaks for nothing wrong and for each entry. */
export interface OtherEvidence {
  readonly healthy: number;
  readonly entries: readonly number[];
}

export function beliefs(
  catalogue: Catalogue,
  weigher: Weigher,
  values: Float64Array,
  speak?: (fits: readonly Pick<Believed, 'entry' | 'best'>[]) => OtherEvidence,
): Beliefs {
  const { entries } = catalogue;
  const total = entries.reduce((sum, { hypothesis }) => sum + hypothesis.weight, 0);
  const coarse = weigher.all(values);
  const fine = refined(catalogue, weigher, values, coarse);
  const healthy = weigher.healthy(values);
  const fits = entries.map((entry, n) => ({ ...(fine[n]?.weighed ?? coarse[n]!), entry: fine[n]?.entry ?? entry }));
  const other = speak?.(fits);
  return {
    healthy: {
      log: healthy.logLikelihood + Math.log(healthyShare) + (other?.healthy ?? 0),
      square: healthy.best.square,
    },
    entries: fits.map(({ entry, best, points, logLikelihood }, n) => {
      const prior = ((1 - healthyShare) * entry.hypothesis.weight) / total;
      return { entry, best, points, log: logLikelihood + Math.log(prior) + (other?.entries[n] ?? 0) };
    }),
  };
}

/** Shares of nothing wrong and of each entry; all together are 1. */
export interface Shares {
  readonly healthy: number;
  readonly entries: readonly number[];
}

export function sharesOf({ healthy, entries }: Beliefs): Shares {
  const whole = logSum([healthy.log, ...entries.map(({ log }) => log)]);
  return { healthy: Math.exp(healthy.log - whole), entries: entries.map(({ log }) => Math.exp(log - whole)) };
}
