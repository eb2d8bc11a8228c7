import type { Entry } from './entry.ts';
import type { Prediction } from './predict.ts';
import type { RunPoint } from './weigh.ts';

/** What an entry predicts at a value: between two cases in a straight line. */
export function fittedPrediction({ runs }: Entry, { run, index, share }: RunPoint): Prediction {
  const before = runs[run]!.predictions[index]!;
  const after = runs[run]!.predictions[index + 1];
  if (after === undefined || share === 0) return before;
  return {
    mean: before.mean.map((value, s) => value + share * (after.mean[s]! - value)),
    moves: before.moves.map((value, k) => value + share * (after.moves[k]! - value)),
    open: before.open.map((value, s) => Math.max(value, after.open[s]!)),
  };
}
