import { fitRows } from '../fit/fit-rows.ts';
import { isWorse, worstLevel, type Level } from '../judge.ts';
import type { Steps } from '../steps.ts';
import { priceOf, type Candidate } from './candidate.ts';
import type { ChoicePlace } from './choice-place.ts';
import type { Option } from './plan-search.ts';
import { byRank, type Ranked } from './rank.ts';
import type { ChoiceSetting } from './setting.ts';
import type { Trial } from './trial.ts';

/** A candidate that a plan may take, tried alone. */
export interface PlaceOption extends Option {
  readonly candidate: Candidate;
  readonly trial: Trial;
  readonly fits: Level;
}

/** Candidates between two steps. */
const stride = 50;

/** For each place what goes in and leaves a bias, best first. */
export function* planOptions(
  places: readonly ChoicePlace[],
  setting: ChoiceSetting,
): Steps<readonly (readonly PlaceOption[])[]> {
  const options: (readonly PlaceOption[])[] = [];
  for (const [n, place] of places.entries()) {
    const found: { readonly option: PlaceOption; readonly ranked: Ranked }[] = [];
    for (const [k, candidate] of setting.candidates(place).entries()) {
      const option = optionOf(candidate, n, setting);
      if (option !== null) found.push({ option, ranked: { ...option.trial, price: priceOf(candidate) } });
      if (k % stride === stride - 1) yield n / places.length;
    }
    options.push(found.sort((a, b) => byRank(a.ranked, b.ranked)).map(({ option }) => option));
  }
  return options;
}

function optionOf(candidate: Candidate, place: number, setting: ChoiceSetting): PlaceOption | null {
  const fits = worstLevel(candidate.against.map(({ level }) => level));
  if (candidate.parts.length === 0 || isWorse(fits, 'look')) return null;
  const trial = setting.try([candidate]);
  const takes = [{ stock: candidate.stock.stock, pieces: candidate.takes }];
  return trial === null ? null : { place, candidate, trial, fits, takes };
}

/** How the parts of each position sit as the job has them, where that is not good. */
export function sittingLevels({ base, around }: ChoiceSetting): ReadonlyMap<string, Level> {
  const levels = new Map<string, Level>();
  for (const { ref, level } of fitRows(around)) {
    const position = base.stage.circuit.parts.find((part) => part.ref === ref)?.position ?? ref;
    if (level !== 'good') levels.set(position, worstLevel([level, levels.get(position) ?? 'good']));
  }
  return levels;
}
