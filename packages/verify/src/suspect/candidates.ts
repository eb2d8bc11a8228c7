import type { Steps } from '../steps.ts';
import type { Suspicion } from './answer.ts';
import type { Catalogue } from './catalogue.ts';
import type { Entry } from './entry.ts';
import { fittedPrediction } from './fitted.ts';
import { pairSteps } from './pairs.ts';
import type { Prediction } from './predict.ts';
import { healthyShare } from './priors.ts';
import type { World } from './world.ts';

/** A suspect with what its share is made of. */
export interface Candidate {
  readonly log: number;
  readonly square: number;
  readonly faults: readonly Suspicion[];
  readonly prediction: Prediction;
}

export function healthyCandidate({ catalogue, beliefs: { healthy } }: World): Candidate {
  return { ...healthy, faults: [], prediction: catalogue.healthy };
}

/** With the supplies as measured every suspect has them as further faults, and they alone are one. */
export function singleCandidates(world: World): readonly Candidate[] {
  const { catalogue, beliefs: believed, prior, rails } = world;
  const supplies = rails.map(({ rail, volts }): Suspicion => ({
    ref: rail,
    others: [],
    channel: null,
    fault: 'supply',
    words: 'the supply is off',
    value: volts,
    unit: 'V',
  }));
  const singles = believed.entries.map(({ entry, best, log }): Candidate => ({
    log: log + prior,
    square: best.square,
    faults: [...supplies, suspicionOf(catalogue, entry, best.value)],
    prediction: fittedPrediction(entry, best),
  }));
  if (rails.length === 0) return singles;
  const { log, square } = believed.healthy;
  return [{ log: log + prior, square, faults: supplies, prediction: catalogue.healthy }, ...singles];
}

export function* pairCandidates({ catalogue, weigher: own, values, prior }: World): Steps<readonly Candidate[]> {
  const total = catalogue.entries.reduce((sum, { hypothesis }) => sum + hypothesis.weight, 0);
  const pairs = yield* pairSteps(catalogue, own, values);
  return pairs.map(({ entries, values: fitted, square, logLikelihood, prediction }): Candidate => {
    const both = entries.map((n) => catalogue.entries[n]!);
    const chance = both.reduce(
      (log, { hypothesis }) => log + Math.log(((1 - healthyShare) * hypothesis.weight) / total),
      0,
    );
    return {
      log: logLikelihood + chance + prior,
      square,
      faults: both.map((entry, n) => suspicionOf(catalogue, entry, fitted[n] ?? null)),
      prediction,
    };
  });
}

function suspicionOf({ circuit }: Catalogue, { hypothesis }: Entry, value: number | null): Suspicion {
  const [ref = '', ...others] = hypothesis.refs;
  return {
    ref,
    others,
    channel: circuit.parts.find((part) => part.ref === ref)?.channel ?? null,
    fault: hypothesis.kind,
    words: hypothesis.words,
    value,
    unit: hypothesis.unit,
  };
}
