import type { Steps } from '../steps.ts';
import { isHeld, type Option, type PlanProblem } from './plan-search.ts';

export interface StepwiseProblem<O extends Option> extends Pick<
  PlanProblem<O>,
  'options' | 'held' | 'judge' | 'accept'
> {
  /** How far a set is from passing, in one number; 0 and above. */
  readonly lacking: (chosen: readonly O[]) => number;
}

/** Options of each place that are tried at each step, those that do best alone. */
const tried = 50;

/**
 * One change after another, each the one after which least is lacking, until the set passes; then every change that turns out to be needless is
 * taken back. Finds some plan where there are too many sets to look at, not the smallest. Null where no change brings it further.
 */
export function* stepwisePlan<O extends Option>(problem: StepwiseProblem<O>): Steps<readonly O[] | null> {
  const passes = (chosen: readonly O[]): boolean => problem.judge(chosen) && problem.accept(chosen);
  let chosen: readonly O[] = [];
  while (!passes(chosen)) {
    let [least, best] = [problem.lacking(chosen), null as readonly O[] | null];
    for (const [place, options] of problem.options.entries()) {
      for (const option of options.slice(0, tried)) {
        const more = [...chosen.filter((each) => each.place !== place), option];
        const left = isHeld(more, problem.held) ? problem.lacking(more) : Infinity;
        if (left < least) [least, best] = [left, more];
      }
      yield 1;
    }
    if (best === null) return null;
    chosen = best;
  }
  for (const each of chosen) {
    const fewer = chosen.filter((other) => other !== each);
    if (passes(fewer)) chosen = fewer;
    yield 1;
  }
  return chosen;
}
