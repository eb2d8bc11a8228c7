import type { Hypothesis, Run } from './hypothesis.ts';
import type { Prediction } from './predict.ts';

/** A hypothesis with what it predicts. */
export interface Entry {
  readonly hypothesis: Hypothesis;
  readonly runs: readonly PredictedRun[];
}

/** A run with what its cases predict, without those that have no bias. */
export interface PredictedRun {
  readonly of: Run;
  readonly values: readonly (number | null)[];
  readonly predictions: readonly Prediction[];
}
