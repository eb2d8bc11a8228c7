import { fitRows } from '../fit/fit-rows.ts';
import { isWorse, worstLevel, type Level } from '../judge.ts';
import type { Steps } from '../steps.ts';
import { priceOf } from './candidate.ts';
import { withChoices, type ChoicePlace } from './choice-place.ts';
import { confirm } from './confirm.ts';
import type { PlaceOption } from './plan-options.ts';
import { smallestPlan, type PlanFound } from './plan-search.ts';
import { byRank, type Ranked } from './rank.ts';
import { reachBound } from './reach-bound.ts';
import { reasonsOf } from './reason.ts';
import type { ChoiceSetting } from './setting.ts';
import { stepwisePlan } from './stepwise-plan.ts';
import type { Trial } from './trial.ts';

/** Share of their sizes by which the moves of several changes may miss adding up. */
export const reserve = 0.5;

/** Looks at bounds; half a minute on an ordinary machine. */
const mostWork = 5_000_000;

export interface PlanContext {
  readonly places: readonly ChoicePlace[];
  readonly setting: ChoiceSetting;
  readonly start: Trial;
  readonly options: readonly (readonly PlaceOption[])[];
  /** How the parts of each position sit as the job has them, where that is not good. */
  readonly sitting: ReadonlyMap<string, Level>;
}

/** The fewest changes to reach a level; where the search has to be given up, some changes that reach it. */
export function* aimAt(target: 'good' | 'look', context: PlanContext): Steps<PlanFound<PlaceOption>> {
  const { setting, start, options, places, sitting } = context;
  const rankOf = (chosen: readonly PlaceOption[]): Ranked => {
    const trial = trialOf(chosen);
    const level = worstLevel([trial?.level ?? 'fail', fitsOf(chosen)]);
    return { level, change: trial?.change ?? NaN, margin: trial?.margin ?? NaN, price: totalOf(chosen) };
  };
  const moves = new Map(
    options.flat().map((option) => [option, option.trial.spots.map((spot, n) => spot - start.spots[n]!)] as const),
  );
  const spans = setting.spots().map((spot) => spot[target]);
  const movesOfPlaces = options.map((all) => all.map((option) => moves.get(option)!));
  const bound = reachBound(start.spots, spans, movesOfPlaces, reserve);
  const misfits = [...sitting].flatMap(([position, level]) =>
    isWorse(level, target) ? [places.findIndex(({ refs }) => refs.includes(position))] : [],
  );
  const problem = {
    options,
    held: new Map(
      setting.stock.flatMap(({ stock, quantity }) => (quantity === null ? [] : [[stock, quantity] as const])),
    ),
    mayPass: (chosen: readonly PlaceOption[], open: readonly number[]) =>
      chosen.every(({ fits }) => !isWorse(fits, target)) &&
      misfits.every((place) => open.includes(place) || chosen.some((option) => option.place === place)) &&
      bound.mayPass(
        chosen.map((option) => moves.get(option)!),
        open,
      ),
    judge: (chosen: readonly PlaceOption[]) => !isWorse(rankOf(chosen).level, target),
    compare: (a: readonly PlaceOption[], b: readonly PlaceOption[]) => byRank(rankOf(a), rankOf(b)),
    accept: (chosen: readonly PlaceOption[]) => !isWorse(wholeOf(chosen, setting)?.level ?? 'fail', target),
    most: mostWork,
  };
  const found = yield* smallestPlan(problem);
  if (found.chosen !== null || found.exact) return found;
  const left = (chosen: readonly PlaceOption[]): number =>
    misfits.filter((place) => !chosen.some((option) => option.place === place)).length;
  const lacking = (chosen: readonly PlaceOption[]): number => (trialOf(chosen)?.shortfall ?? Infinity) + left(chosen);
  return { ...found, chosen: yield* stepwisePlan({ ...problem, lacking }) };

  function trialOf(chosen: readonly PlaceOption[]): Trial | null {
    return setting.try(chosen.map(({ candidate }) => candidate));
  }

  function fitsOf(chosen: readonly PlaceOption[]): Level {
    const changed = new Set(chosen.flatMap(({ place }) => places[place]!.refs));
    const kept = [...sitting].flatMap(([position, level]) => (changed.has(position) ? [] : [level]));
    return worstLevel([...kept, ...chosen.map(({ fits }) => fits)]);
  }
}

export interface Whole {
  readonly level: Level;
  readonly reasons: readonly string[];
}

/** Every limit and every question of fit; null without a bias. */
export function wholeOf(chosen: readonly PlaceOption[], setting: ChoiceSetting): Whole | null {
  const { base, drawn, limits } = setting;
  const circuit = withChoices(
    base.stage.circuit,
    chosen.map(({ candidate }) => candidate),
  );
  const judged = confirm(circuit, setting);
  if (judged === null) return null;
  const { stage, settle } = judged;
  const rows = fitRows({ stage, drawn: drawn.stage, ratings: limits.ratings, settle }).filter(
    ({ level }) => level !== 'good',
  );
  return {
    level: worstLevel([judged.level, ...rows.map(({ level }) => level)]),
    reasons: [...reasonsOf(judged.open), ...rows.map(({ cause }) => cause)],
  };
}

/** Of all pieces; null where one has no price. */
export function totalOf(chosen: readonly PlaceOption[]): number | null {
  const prices = chosen.map(({ candidate }) => priceOf(candidate));
  if (prices.includes(null)) return null;
  return Math.round(prices.reduce<number>((sum, price) => sum + (price ?? 0), 0) * 1e6) / 1e6;
}
