import type { StockPart } from '@curvewright/board';
import { fitRows } from '../fit/fit-rows.ts';
import { isWorse, worstLevel, type Level } from '../judge.ts';
import { settleAnswer } from '../settle.ts';
import { within, type Steps } from '../steps.ts';
import type { Candidate } from './candidate.ts';
import { withChoices, type ChoicePlace } from './choice-place.ts';
import { describeCandidate, priceOf } from './choose.ts';
import { confirm } from './confirm.ts';
import { smallestPlan, type Option, type PlanFound } from './plan-search.ts';
import { byRank } from './rank.ts';
import { reachBound } from './reach-bound.ts';
import { reasonsOf } from './reason.ts';
import type { ChoiceSetting } from './setting.ts';
import type { Trial } from './trial.ts';

/** The smallest set of changes to a rework with which the job passes. */
export interface PlanAnswer {
  /** Of the rework as the job has it, by bias, curve, and how its parts sit. */
  readonly before: Level;
  /** With the plan, by every limit; null where no plan was found. */
  readonly verdict: Level | null;
  readonly plan: readonly PlanStep[];
  /** Of all pieces; null where one has no price. */
  readonly price: number | null;
  /** What is still not good with the plan. */
  readonly reasons: readonly string[];
  readonly search: {
    readonly places: number;
    readonly options: number;
    /** No set with fewer changes passes. */
    readonly shownBelow: number;
    /** False where the search was given up before every set of as many changes was looked at. */
    readonly exact: boolean;
    /** Sets put in and judged. */
    readonly judged: number;
  };
}

export interface PlanStep {
  readonly ref: string;
  readonly refs: readonly string[];
  readonly planned: string;
  readonly stock: string;
  readonly pieces: number;
  readonly takes: number;
  readonly description: string;
  readonly price: number | null;
  readonly fit: StockPart['written'] | readonly StockPart['written'][];
}

interface PlaceOption extends Option {
  readonly candidate: Candidate;
  readonly trial: Trial;
  readonly fits: Level;
}

/** Share of their sizes by which the moves of several changes may miss adding up. */
const reserve = 0.5;

/** Looks at bounds; half a minute on an ordinary machine. */
const mostWork = 5_000_000;

/** Changes in one plan: what needs more is another rework. */
const mostChanges = 4;

/** Candidates between two steps. */
const stride = 50;

/** Aims at good, and where the drawer does not hold that, at what passes at all. */
export function* planSteps(places: readonly ChoicePlace[], setting: ChoiceSetting): Steps<PlanAnswer> {
  const start = setting.try([]);
  if (start === null) throw new RangeError('a rework without a bias');
  const options: PlaceOption[][] = [];
  for (const [n, place] of places.entries()) {
    const found: PlaceOption[] = [];
    for (const [k, candidate] of setting.candidates(place).entries()) {
      const option = optionOf(candidate, n, setting);
      if (option !== null) found.push(option);
      if (k % stride === stride - 1) yield (0.5 * n) / places.length;
    }
    options.push(found.sort(byOption));
  }
  const context = { places, setting, start, options, sitting: sittingLevels(setting) };
  const before = worstLevel([start.level, ...context.sitting.values()]);
  const good = yield* within(0.5, 0.9, aimAt('good', context));
  if (good.chosen !== null || !isWorse(before, 'look')) return answerOf(good, before, context);
  return answerOf(yield* within(0.9, 1, aimAt('look', context)), before, context);
}

interface Context {
  readonly places: readonly ChoicePlace[];
  readonly setting: ChoiceSetting;
  readonly start: Trial;
  readonly options: readonly (readonly PlaceOption[])[];
  /** How the parts of each position sit as the job has them, where that is not good. */
  readonly sitting: ReadonlyMap<string, Level>;
}

function optionOf(candidate: Candidate, place: number, setting: ChoiceSetting): PlaceOption | null {
  const fits = worstLevel(candidate.against.map(({ level }) => level));
  if (candidate.parts.length === 0 || isWorse(fits, 'look')) return null;
  const trial = setting.try([candidate]);
  const takes = [{ stock: candidate.stock.stock, pieces: candidate.takes }];
  return trial === null ? null : { place, candidate, trial, fits, takes };
}

function byOption(a: PlaceOption, b: PlaceOption): number {
  const ranked = ({ trial, candidate }: PlaceOption): Parameters<typeof byRank>[0] => ({
    ...trial,
    price: priceOf(candidate),
  });
  return byRank(ranked(a), ranked(b));
}

function sittingLevels({ base, drawn, limits, settle }: ChoiceSetting): ReadonlyMap<string, Level> {
  const rows = fitRows({ stage: base.stage, drawn: drawn.stage, ratings: limits.ratings, settle });
  const levels = new Map<string, Level>();
  for (const { ref, level } of rows) {
    const position = base.stage.circuit.parts.find((part) => part.ref === ref)?.position ?? ref;
    if (level !== 'good') levels.set(position, worstLevel([level, levels.get(position) ?? 'good']));
  }
  return levels;
}

function aimAt(target: 'good' | 'look', context: Context): Steps<PlanFound<PlaceOption>> {
  const { setting, start, options, sitting, places } = context;
  const trialOf = (chosen: readonly PlaceOption[]): Trial | null =>
    setting.try(chosen.map(({ candidate }) => candidate));
  const fitsOf = (chosen: readonly PlaceOption[]): Level => {
    const changed = new Set(chosen.flatMap(({ place }) => places[place]!.refs));
    const kept = [...sitting].flatMap(([position, level]) => (changed.has(position) ? [] : [level]));
    return worstLevel([...kept, ...chosen.map(({ fits }) => fits)]);
  };
  const rankOf = (chosen: readonly PlaceOption[]): Parameters<typeof byRank>[0] => {
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
  return smallestPlan(
    {
      options,
      held: new Map(
        setting.stock.flatMap(({ stock, quantity }) => (quantity === null ? [] : [[stock, quantity] as const])),
      ),
      mayPass: (chosen, open) =>
        bound.mayPass(
          chosen.map((option) => moves.get(option)!),
          open,
        ),
      judge: (chosen) => !isWorse(rankOf(chosen).level, target),
      compare: (a, b) => byRank(rankOf(a), rankOf(b)),
      accept: (chosen) => !isWorse(wholeOf(chosen, setting)?.level ?? 'fail', target),
      most: mostWork,
    },
    mostChanges,
  );
}

interface Whole {
  readonly level: Level;
  readonly reasons: readonly string[];
}

/** Every limit and every question of fit; null without a bias. */
function wholeOf(chosen: readonly PlaceOption[], setting: ChoiceSetting): Whole | null {
  const { base, drawn, limits } = setting;
  const circuit = withChoices(
    base.stage.circuit,
    chosen.map(({ candidate }) => candidate),
  );
  const judged = confirm(circuit, setting, 'every limit');
  if (judged === null) return null;
  const { stage } = judged.probe;
  const settled = settleAnswer(stage, { within: limits.settle.within });
  const settle = settled.ok ? settled.value : null;
  const rows = fitRows({ stage, drawn: drawn.stage, ratings: limits.ratings, settle }).filter(
    ({ level }) => level !== 'good',
  );
  return {
    level: worstLevel([judged.level, ...rows.map(({ level }) => level)]),
    reasons: [...reasonsOf(judged.open), ...rows.map(({ cause }) => cause)],
  };
}

function totalOf(chosen: readonly PlaceOption[]): number | null {
  const prices = chosen.map(({ candidate }) => priceOf(candidate));
  return prices.includes(null)
    ? null
    : Math.round(prices.reduce<number>((sum, price) => sum + (price ?? 0), 0) * 1e6) / 1e6;
}

function answerOf(
  { chosen, shownBelow, exact, judged }: PlanFound<PlaceOption>,
  before: Level,
  { places, options, setting }: Context,
): PlanAnswer {
  const whole = chosen === null ? null : wholeOf(chosen, setting);
  return {
    before,
    verdict: whole?.level ?? null,
    plan: (chosen ?? []).map(({ place, candidate }) => ({
      ...{ ref: places[place]!.refs[0]!, refs: places[place]!.refs, planned: places[place]!.description },
      ...{ stock: candidate.stock.stock, pieces: candidate.pieces, takes: candidate.takes },
      ...{ description: describeCandidate(candidate), price: priceOf(candidate) },
      fit:
        candidate.pieces === 1
          ? candidate.stock.written
          : Array.from({ length: candidate.pieces }, () => candidate.stock.written),
    })),
    price: chosen === null ? null : totalOf(chosen),
    reasons: whole?.reasons ?? [],
    search: {
      places: options.filter((all) => all.length > 0).length,
      options: options.flat().length,
      ...{ shownBelow, exact, judged },
    },
  };
}
