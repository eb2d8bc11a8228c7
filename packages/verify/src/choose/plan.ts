import { isWorse, worstLevel, type Level } from '../judge.ts';
import { within, type Steps } from '../steps.ts';
import { fitOf, priceOf } from './candidate.ts';
import type { ChoicePlace } from './choice-place.ts';
import { aimAt, reserve, totalOf, wholeOf, type PlanContext } from './plan-aim.ts';
import { planOptions, sittingLevels, type PlaceOption } from './plan-options.ts';
import type { PlanFound } from './plan-search.ts';
import type { CandidateAnswer } from './ranking.ts';
import type { ChoiceSetting } from './setting.ts';

/** The smallest set of changes to a rework with which the job passes. */
export interface PlanAnswer {
  /** Of the rework as the job has it, by bias, curve, hum and crosstalk, and how its parts sit. */
  readonly before: Level;
  /** With the plan, by every limit; null where no plan was found. */
  readonly verdict: Level | null;
  readonly plan: readonly PlanStep[];
  /** Of all pieces; null where one has no price. */
  readonly price: number | null;
  /** What is still not good with the plan. */
  readonly reasons: readonly string[];
  readonly search: PlanSearch;
}

export interface PlanSearch {
  readonly places: number;
  readonly options: number;
  /** No set with fewer changes passes. */
  readonly shownBelow: number;
  /** False where the search was given up before every set of as many changes was looked at: `shownBelow` then is the least that a plan takes. */
  readonly exact: boolean;
  /** Sets put in and judged. */
  readonly judged: number;
  /** Sets were passed over unjudged where their changes, taken to add up to within this share of their sizes, cannot reach the limits. */
  readonly reserve: number;
}

export interface PlanStep extends Pick<
  CandidateAnswer,
  'stock' | 'pieces' | 'takes' | 'description' | 'price' | 'fit'
> {
  readonly ref: string;
  readonly refs: readonly string[];
  readonly planned: string;
}

/** Aims at good, and where the drawer does not hold that, at what passes at all. */
export function* planSteps(places: readonly ChoicePlace[], setting: ChoiceSetting): Steps<PlanAnswer> {
  const start = setting.try([]);
  if (start === null) throw new RangeError('a rework without a bias');
  const options = yield* within(0, 0.5, planOptions(places, setting));
  const context = { places, setting, start, options, sitting: sittingLevels(setting) };
  const before = worstLevel([start.level, ...context.sitting.values()]);
  const good = yield* within(0.5, 0.9, aimAt('good', context));
  if (good.chosen !== null || !isWorse(before, 'look')) return answerOf(good, before, context);
  return answerOf(yield* within(0.9, 1, aimAt('look', context)), before, context);
}

function answerOf(
  { chosen, shownBelow, exact, judged }: PlanFound<PlaceOption>,
  before: Level,
  { places, options, setting }: PlanContext,
): PlanAnswer {
  const whole = chosen === null ? null : wholeOf(chosen, setting);
  return {
    before,
    verdict: whole?.level ?? null,
    plan: (chosen ?? []).map(({ place, candidate }) => ({
      ...{ ref: places[place]!.refs[0]!, refs: places[place]!.refs, planned: places[place]!.description },
      ...{ stock: candidate.stock.stock, pieces: candidate.pieces, takes: candidate.takes },
      ...{ description: setting.describe(candidate), price: priceOf(candidate), fit: fitOf(candidate) },
    })),
    price: chosen === null ? null : totalOf(chosen),
    reasons: whole?.reasons ?? [],
    search: {
      places: options.filter((all) => all.length > 0).length,
      options: options.flat().length,
      ...{ shownBelow, exact, judged, reserve },
    },
  };
}
