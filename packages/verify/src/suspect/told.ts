import type { ReadAgainst, SuspectAnswer, Suspicion } from './answer.ts';
import type { Candidate } from './candidates.ts';
import type { Catalogue } from './catalogue.ts';
import { errorVariance } from './covariance.ts';
import type { ToldReading } from './evidence.ts';
import type { Prediction } from './predict.ts';
import type { World } from './world.ts';

/** In the unit of the reading. */
export function predictedReadings(
  { spots }: Catalogue,
  { mean }: Prediction,
  told: readonly ToldReading[],
): readonly number[] {
  const places = new Map(spots.map((spot, s) => [JSON.stringify(spot), s]));
  return told.map(({ terms, unit }) => {
    const sum = terms.reduce((total, { spot, factor }) => total + factor * mean[places.get(JSON.stringify(spot))!]!, 0);
    return unit === 'Ω' ? Math.exp(sum) : sum;
  });
}

/** Each reading beside what healthy boards show. */
export function againstHealthy({ catalogue }: World, told: readonly ToldReading[]): readonly ReadAgainst[] {
  const { spots, healthy, loose } = catalogue;
  const normal = predictedReadings(catalogue, healthy, told);
  const places = new Map(spots.map((spot, s) => [JSON.stringify(spot), s]));
  const width = loose.groups.length;
  return told.map(({ name, unit, measured, terms, sigma = 0, level = [] }, n) => {
    const moves = new Float64Array(width);
    let variance = sigma ** 2 + level.reduce((sum, each) => sum + each.sigma ** 2, 0);
    for (const { spot, factor } of terms) {
      const s = places.get(JSON.stringify(spot))!;
      variance += factor ** 2 * (errorVariance(spot, healthy.mean[s]!) + healthy.open[s]! ** 2);
      for (let g = 0; g < width; g++) moves[g] = moves[g]! + factor * healthy.moves[s * width + g]!;
    }
    const spread = Math.sqrt(variance + moves.reduce((sum, move) => sum + move ** 2, 0));
    return { name, unit, measured, normal: normal[n]!, sigma: unit === 'Ω' ? spread * normal[n]! : spread };
  });
}

/** Each part with all that it is suspected of. */
export function byPart(
  leastShare: number,
  candidates: readonly { readonly faults: readonly Suspicion[]; readonly share: number }[],
): SuspectAnswer['parts'] {
  const parts = new Map<string, number>();
  for (const { faults, share } of candidates) {
    for (const ref of new Set(faults.flatMap((fault) => [fault.ref, ...fault.others])))
      parts.set(ref, (parts.get(ref) ?? 0) + share);
  }
  return [...parts]
    .filter(([, probability]) => probability >= leastShare)
    .map(([ref, probability]) => ({ ref, probability }))
    .sort((a, b) => b.probability - a.probability);
}

/** Suspects with less are no rivals. */
export const tieShare = 0.01;

/** Standard deviations, all readings taken together, below which two predictions are the same. */
const tieApart = 1;

/** Suspects whose predictions are the same to these readings. */
export function tiesOf({ weigher: own }: World, suspects: readonly Candidate[]): readonly (readonly string[])[] {
  const groups: Candidate[][] = [];
  for (const each of suspects) {
    const group = groups.find(([first]) => own.apart(first!.prediction, each.prediction) < tieApart);
    if (group === undefined) groups.push([each]);
    else group.push(each);
  }
  return groups
    .map((group) => [...new Set(group.map(({ faults }) => faults.map(({ ref }) => ref).join(' and ')))])
    .filter((refs) => refs.length > 1);
}
