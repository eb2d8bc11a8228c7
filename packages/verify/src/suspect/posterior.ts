import type { Catalogue, Entry } from './catalogue.ts';
import { healthyShare } from './priors.ts';
import { refined } from './refine.ts';
import { logSum, type BestFit, type Weigher } from './weigh.ts';

/** What readings make of the hypotheses; all shares together are 1. */
export interface Posterior {
  readonly healthy: { readonly share: number; readonly square: number };
  /** In the order of the catalogue's entries. */
  readonly entries: readonly Believed[];
}

export interface Believed {
  readonly share: number;
  readonly best: BestFit;
  /** The catalogue's, or one with more cases, which `best` speaks of. */
  readonly entry: Entry;
}

/** ln of what else speaks for nothing wrong and for each entry. */
export interface OtherEvidence {
  readonly healthy: number;
  readonly entries: readonly number[];
}

export function posterior(
  catalogue: Catalogue,
  weigher: Weigher,
  values: Float64Array,
  other?: OtherEvidence,
): Posterior {
  const { entries } = catalogue;
  const total = entries.reduce((sum, { hypothesis }) => sum + hypothesis.weight, 0);
  const coarse = weigher.all(values);
  const fine = refined(catalogue, weigher, values, coarse);
  const healthy = weigher.healthy(values);
  const logs = entries.map(
    ({ hypothesis }, n) =>
      (fine[n]?.weighed ?? coarse[n]!).logLikelihood +
      Math.log(((1 - healthyShare) * hypothesis.weight) / total) +
      (other?.entries[n] ?? 0),
  );
  const healthyLog = healthy.logLikelihood + Math.log(healthyShare) + (other?.healthy ?? 0);
  const whole = logSum([healthyLog, ...logs]);
  return {
    healthy: { share: Math.exp(healthyLog - whole), square: healthy.best.square },
    entries: entries.map((entry, n) => ({
      share: Math.exp(logs[n]! - whole),
      best: (fine[n]?.weighed ?? coarse[n]!).best,
      entry: fine[n]?.entry ?? entry,
    })),
  };
}
