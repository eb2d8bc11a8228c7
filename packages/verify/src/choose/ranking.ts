import type { StockPart } from '@curvewright/board';
import { worstLevel, type Level } from '../judge.ts';
import { fitOf, priceOf, type Candidate } from './candidate.ts';
import { withChoices } from './choice-place.ts';
import { confirm } from './confirm.ts';
import type { Ranked } from './rank.ts';
import { reasonsOf } from './reason.ts';
import type { ChoiceSetting } from './setting.ts';
import type { Changes, Trial } from './trial.ts';

/** By how many limits something was judged; what does not fit at all is not put in. */
export type Depth = 'fit alone' | 'bias, curve, hum and crosstalk' | 'every limit';

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
  readonly judgedBy: Depth;
  /** Why it is not good; empty where it is. */
  readonly reasons: readonly string[];
  /** Of the rework with it in place from the drawn board; null where it was not put in. */
  readonly changes: Changes | null;
  /** What the job would say under `fit`. */
  readonly fit: StockPart['written'] | readonly StockPart['written'][];
}

export interface Ranking {
  readonly candidate: Candidate;
  readonly answer: CandidateAnswer;
}

const noBias = 'the stage finds no bias with it';

export function ranking(candidate: Candidate, setting: ChoiceSetting): Ranking {
  const { stock, pieces, takes, parts, against, place } = candidate;
  const isOut = parts.length === 0 || against.some(({ level }) => level === 'fail');
  const trial = isOut ? null : setting.try([{ place, parts }]);
  const level = worstLevel([
    ...against.map((each) => each.level),
    ...(isOut ? [] : [trial?.level ?? ('fail' as const)]),
  ]);
  return {
    candidate,
    answer: {
      ...{ stock: stock.stock, pieces, takes, quantity: stock.quantity, price: priceOf(candidate) },
      description: setting.describe(candidate),
      ...{ level, verdict: level, judgedBy: isOut ? 'fit alone' : 'bias, curve, hum and crosstalk' },
      reasons: [
        ...against.map(({ reason }) => reason),
        ...(isOut || trial !== null ? [] : [noBias]),
        ...reasonsOf(trial?.open ?? []),
      ],
      ...figuresOf(trial),
      fit: fitOf(candidate),
    },
  };
}

/** The same candidate judged by every limit. */
export function confirmed({ candidate, answer }: Ranking, setting: ChoiceSetting): Ranking {
  const { place, parts, against } = candidate;
  const judged = confirm(withChoices(setting.base.stage.circuit, [{ place, parts }]), setting);
  const level = worstLevel([...against.map((each) => each.level), judged?.level ?? 'fail']);
  const reasons = judged === null ? [noBias] : reasonsOf(judged.open);
  return {
    candidate,
    answer: {
      ...answer,
      ...{ level, verdict: level, judgedBy: 'every limit', margin: judged?.margin ?? NaN },
      reasons: [...against.map(({ reason }) => reason), ...reasons],
    },
  };
}

function figuresOf(trial: Trial | null): Pick<CandidateAnswer, 'changes' | 'change' | 'margin'> {
  return { changes: trial?.changes ?? null, change: trial?.change ?? NaN, margin: trial?.margin ?? NaN };
}
