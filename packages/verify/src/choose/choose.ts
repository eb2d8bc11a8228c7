import { describeStanding, type StockPart } from '@curvewright/board';
import { isWorse, worstLevel, type Level } from '../judge.ts';
import type { Steps } from '../steps.ts';
import type { Candidate } from './candidate.ts';
import { withChoices, type ChoicePlace } from './choice-place.ts';
import { confirm, type Depth } from './confirm.ts';
import { orderFor, type Order } from './order.ts';
import { byRank, type Ranked } from './rank.ts';
import { reasonsOf } from './reason.ts';
import type { ChoiceSetting } from './setting.ts';
import type { Changes, Trial } from './trial.ts';

/** The parts of the drawer that could serve one place, best first. */
export interface PlaceAnswer {
  readonly ref: string;
  /** Its twins, which get the same, among them. */
  readonly refs: readonly string[];
  /** What the job has there: `22 µF aluminium`. */
  readonly planned: string;
  readonly candidates: readonly CandidateAnswer[];
  /** Where no part of the drawer is good. */
  readonly order: Order | null;
}

export interface CandidateAnswer extends Ranked {
  readonly stock: string;
  /** Pieces in series in each position, and how many all positions take. */
  readonly pieces: number;
  readonly takes: number;
  /** Null where the drawer does not count them. */
  readonly quantity: number | null;
  readonly description: string;
  /** Of the rework with it in place, and of how it sits there. */
  readonly verdict: Level;
  readonly judgedBy: Depth | 'fit alone';
  /** Why it is not good; empty where it is. */
  readonly reasons: readonly string[];
  /** Of the rework with it in place from the drawn board; null where it was not put in. */
  readonly changes: Changes | null;
  /** What the job would say under `fit`. */
  readonly fit: StockPart['written'] | readonly StockPart['written'][];
}

/** Candidates of each place that are judged beyond bias and curve: by every limit where one place is asked for. */
const confirmed = 3;

/** Candidates that are judged so at most before the first ones have all been. */
const mostConfirmed: Readonly<Record<Depth, number>> = {
  'bias and curve': 0,
  'bias, curve, hum and crosstalk': 40,
  'every limit': 6,
};

/** Candidates between two steps. */
const stride = 50;

/** Every part of the drawer put into each place, all else as the job has it. */
export function* chooseSteps(places: readonly ChoicePlace[], setting: ChoiceSetting): Steps<readonly PlaceAnswer[]> {
  const before = setting.try([])?.level ?? 'fail';
  const answers: PlaceAnswer[] = [];
  for (const place of places) {
    const share = (part: number): number => (answers.length + part) / places.length;
    const candidates = setting.candidates(place);
    const tried: Ranking[] = [];
    for (const candidate of candidates) {
      tried.push(ranking(candidate, setting));
      if (tried.length % stride === 0) yield share((0.9 * tried.length) / candidates.length);
    }
    tried.sort((a, b) => byRank(a.answer, b.answer));
    yield* confirmFirst(tried, setting, 'bias, curve, hum and crosstalk', share);
    if (places.length === 1) yield* confirmFirst(tried, setting, 'every limit', share);
    const serves = tried.some(({ answer }) => !isWorse(answer.verdict, before));
    answers.push({
      ...{ ref: place.refs[0]!, refs: place.refs, planned: place.description },
      candidates: tried.map(({ answer }) => answer),
      order: serves ? null : orderFor(place, setting, before),
    });
    yield share(0);
  }
  return answers;
}

interface Ranking {
  readonly candidate: Candidate;
  readonly answer: CandidateAnswer;
}

function ranking(candidate: Candidate, setting: ChoiceSetting): Ranking {
  const { stock, pieces, takes, parts, against, place } = candidate;
  const isOut = parts.length === 0 || against.some(({ level }) => level === 'fail');
  const trial = isOut ? null : setting.try([{ place, parts }]);
  const noBias = isOut || trial !== null ? [] : ['the stage finds no bias with it'];
  const level = worstLevel([
    ...against.map((each) => each.level),
    ...(isOut ? [] : [trial?.level ?? ('fail' as const)]),
  ]);
  return {
    candidate,
    answer: {
      ...{ stock: stock.stock, pieces, takes, quantity: stock.quantity, price: priceOf(candidate) },
      description: describeCandidate(candidate),
      ...{ level, verdict: level, judgedBy: isOut ? 'fit alone' : 'bias and curve' },
      reasons: [...against.map(({ reason }) => reason), ...noBias, ...reasonsOf(trial?.open ?? [])],
      ...figuresOf(trial),
      fit: pieces === 1 ? stock.written : Array.from({ length: pieces }, () => stock.written),
    },
  };
}

function figuresOf(trial: Trial | null): Pick<CandidateAnswer, 'changes' | 'change' | 'margin'> {
  return { changes: trial?.changes ?? null, change: trial?.change ?? NaN, margin: trial?.margin ?? NaN };
}

/** Of all pieces that the place takes, to a millionth: decimals add up as on paper. */
export function priceOf({ stock, takes }: Pick<Candidate, 'stock' | 'takes'>): number | null {
  return stock.price === null ? null : Math.round(stock.price * takes * 1e6) / 1e6;
}

/** `33 µF aluminium, 25 V, ESR 0.9 Ω`, or what is known of a part without figures. */
export function describeCandidate({ parts, place, stock }: Candidate): string {
  const first = parts.filter(({ position }) => position === place.refs[0]);
  return first.length === 0 ? (stock.type ?? stock.kind) : describeStanding({ parts: first, faults: [] });
}

/** Judges the first by more limits and ranks anew, until those that stand first have all been judged so. */
function* confirmFirst(
  ranked: Ranking[],
  setting: ChoiceSetting,
  depth: Exclude<Depth, 'bias and curve'>,
  share: (part: number) => number,
): Steps<void> {
  for (let n = 0; n < mostConfirmed[depth]; n++) {
    const next = ranked
      .slice(0, confirmed)
      .findIndex(({ answer: { judgedBy } }) => judgedBy !== depth && judgedBy !== 'fit alone');
    if (next < 0) return;
    ranked[next] = confirmedRanking(ranked[next]!, setting, depth);
    ranked.sort((a, b) => byRank(a.answer, b.answer));
    yield share(0.9 + (0.1 * (n + 1)) / mostConfirmed[depth]);
  }
}

function confirmedRanking(
  { candidate, answer }: Ranking,
  setting: ChoiceSetting,
  depth: Exclude<Depth, 'bias and curve'>,
): Ranking {
  const { place, parts, against } = candidate;
  const judged = confirm(withChoices(setting.base.stage.circuit, [{ place, parts }]), setting, depth);
  const level = worstLevel([...against.map((each) => each.level), judged?.level ?? 'fail']);
  const reasons = judged === null ? ['the stage finds no bias with it'] : reasonsOf(judged.open);
  return {
    candidate,
    answer: {
      ...answer,
      ...{ level, verdict: level, judgedBy: depth, margin: judged?.margin ?? NaN },
      reasons: [...against.map(({ reason }) => reason), ...reasons],
    },
  };
}
