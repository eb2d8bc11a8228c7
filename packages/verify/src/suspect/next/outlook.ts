import { caseWeights, errorVariance, whitened, type Design } from '../covariance.ts';
import { fittedPrediction } from '../fitted.ts';
import type { Beliefs, Shares } from '../posterior.ts';
import type { Prediction } from '../predict.ts';

/** One of the normal distributions that a reading to come is drawn from, as things stand. */
export interface Component {
  /** Who it would be: designators joined by /, empty for nothing wrong. */
  readonly label: string;
  readonly weight: number;
  readonly mean: number;
  readonly sigma: number;
}

/** What every spot may show, seen from the readings so far. */
export interface Outlook {
  components(spot: number): readonly Component[];
}

/** Hypotheses less likely than this part of the likeliest are left out of what may come. */
const faint = 1e-4;

/** Each hypothesis at the values it may still have, with the other parts as the readings so far put them: a normal distribution given part of it. */
export function outlook(
  design: Design,
  values: Float64Array,
  { entries }: Beliefs,
  shares: Shares,
  healthy: Prediction,
): Outlook {
  const least = faint * Math.max(shares.healthy, ...shares.entries);
  const seen = (label: string, weight: number, prediction: Prediction): Seen => {
    const weights = caseWeights(prediction, design);
    return { label, weight, prediction, weights, left: whitened(weights, values) };
  };
  const all = [
    ...(shares.healthy >= least ? [seen('', shares.healthy, healthy)] : []),
    ...entries.flatMap(({ entry, points }, n) => {
      const share = shares.entries[n]!;
      if (share < least) return [];
      const label = entry.hypothesis.refs.join('/');
      return points.map((point) => seen(label, share * point.weight, fittedPrediction(entry, point)));
    }),
  ];
  return { components: (spot) => all.map((each) => componentAt(each, design, spot)) };
}

interface Seen {
  readonly label: string;
  readonly weight: number;
  readonly prediction: Prediction;
  readonly weights: ReturnType<typeof caseWeights>;
  readonly left: Float64Array;
}

function componentAt({ label, weight, prediction, weights, left }: Seen, design: Design, spot: number): Component {
  const { loose, spots } = design.catalogue;
  const groups = loose.groups.length;
  const width = groups + design.shared.length;
  const { rows, root } = weights;
  let mean = prediction.mean[spot]!;
  let variance = errorVariance(spots[spot]!, mean) + prediction.open[spot]! ** 2;
  const along = new Float64Array(left.length);
  for (let g = 0; g < groups; g++) {
    const move = prediction.moves[spot * groups + g]!;
    if (move === 0) continue;
    variance += move * move;
    for (let r = 0; r < along.length; r++) along[r] = along[r]! + move * rows[r * width + g]!;
  }
  for (let i = 0, at = 0; i < along.length; i++) {
    let sum = along[i]!;
    for (let k = 0; k < i; k++) sum -= root[at + k]! * along[k]!;
    along[i] = sum * root[at + i]!;
    mean += along[i]! * left[i]!;
    variance -= along[i]! ** 2;
    at += i + 1;
  }
  return { label, weight, mean, sigma: Math.sqrt(Math.max(variance, errorVariance(spots[spot]!, mean))) };
}
