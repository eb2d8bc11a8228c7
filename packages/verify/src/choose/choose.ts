import { within, type Steps } from '../steps.ts';
import type { ChoicePlace } from './choice-place.ts';
import { orderFor, type Order } from './order.ts';
import { byRank } from './rank.ts';
import { confirmed, ranking, type CandidateAnswer, type Ranking } from './ranking.ts';
import type { ChoiceSetting } from './setting.ts';

/** The parts of the drawer that could serve one place, best first. */
export interface PlaceAnswer {
  readonly ref: string;
  /** Its twins, which get the same, among them. */
  readonly refs: readonly string[];
  /** What the job has there: `22 µF aluminium`. */
  readonly planned: string;
  readonly candidates: readonly CandidateAnswer[];
  /** A preferred value that does better than all that the drawer holds; null where a part of it is good, or no value would do. */
  readonly order: Order | null;
}

/** Candidates that stand first and are judged by every limit, and how many are judged so at most until they do. */
const [firstOnes, mostConfirmed] = [3, 6];

/** Candidates between two steps. */
const stride = 50;

/** Every part of the drawer put into the place, all else as the job has it; with `thorough` the first are judged by every limit. */
export function* chooseSteps(
  place: ChoicePlace,
  setting: ChoiceSetting,
  { thorough }: { readonly thorough: boolean },
): Steps<PlaceAnswer> {
  const before = setting.try([])?.level ?? 'fail';
  const candidates = setting.candidates(place);
  const tried: Ranking[] = [];
  for (const candidate of candidates) {
    tried.push(ranking(candidate, setting));
    if (tried.length % stride === 0) yield ((thorough ? 0.8 : 1) * tried.length) / candidates.length;
  }
  tried.sort((a, b) => byRank(a.answer, b.answer));
  if (thorough) yield* within(0.8, 1, confirmFirst(tried, setting));
  const best = tried[0]?.answer.verdict ?? null;
  return {
    ...{ ref: place.refs[0]!, refs: place.refs, planned: place.description },
    candidates: tried.map(({ answer }) => answer),
    order: orderFor(place, setting, best, before),
  };
}

/** Judges the first by every limit and ranks anew, until those that stand first have all been judged so. */
function* confirmFirst(ranked: Ranking[], setting: ChoiceSetting): Steps<void> {
  for (let n = 0; n < mostConfirmed; n++) {
    const next = ranked
      .slice(0, firstOnes)
      .findIndex(({ answer: { judgedBy } }) => judgedBy === 'bias, curve, hum and crosstalk');
    if (next < 0) return;
    ranked[next] = confirmed(ranked[next]!, setting);
    ranked.sort((a, b) => byRank(a.answer, b.answer));
    yield (n + 1) / mostConfirmed;
  }
}
