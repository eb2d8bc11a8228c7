import { preferredAbove, preferredBelow } from '@curvewright/quantity';
import { withValue, type Part } from '@curvewright/board';
import { soldVolts } from '../fit/sold-volts.ts';
import { isWorse, type Level } from '../judge.ts';
import { mainValue, printValue } from '../part-value.ts';
import { seriesFor } from '../remedy.ts';
import type { ChoicePlace } from './choice-place.ts';
import { fitRule } from './fit-rule.ts';
import type { ChoiceSetting } from './setting.ts';

/** What to order where the drawer has nothing: a preferred value of the build that the job has there. */
export interface Order {
  readonly value: number;
  /** `33 µF aluminium, 6.3 V or more`. */
  readonly words: string;
}

/** Preferred values looked at on each side of the drawn one. */
const tries = 12;

/**
 * The preferred value nearest to the drawn one that does better than the best of the drawer, or at least no worse than what the job has where
 * the drawer does, or holds nothing (`best` null); null where there is none, or no value to have.
 */
export function orderFor(place: ChoicePlace, setting: ChoiceSetting, best: Level | null, before: Level): Order | null {
  const aims = [
    ...(['good', 'look'] as const).filter((level) => best === null || isWorse(best, level)),
    ...(best === null || isWorse(best, before) ? [before] : []),
  ];
  for (const aim of aims) {
    const order = nearest(place, setting, aim);
    if (order !== null) return order;
  }
  return null;
}

function nearest(place: ChoicePlace, setting: ChoiceSetting, aim: Level): Order | null {
  const [drawn] = place.drawn;
  const parts = place.refs.map((_, n) => (place.planned[n]?.length === 1 ? place.planned[n][0]! : place.drawn[n]!));
  const [model] = parts;
  const wanted = drawn === undefined ? null : mainValue(drawn);
  if (model === undefined || wanted === null || wanted <= 0 || model.kind === 'trimmer') return null;
  const series = seriesFor(model);
  let [above, below] = [wanted, wanted];
  for (let n = 0; n < tries; n++) {
    const steps =
      n === 0
        ? [wanted].filter(isSold)
        : // The series itself may hold the value: the first step has to leave it.
          [(above = preferredAbove(above * 1.001, series)), (below = preferredBelow(below / 1.001, series))];
    for (const value of steps) {
      const tried = parts.map((part) => withValue(part, value));
      const level = setting.try([{ place, parts: tried }])?.level ?? 'fail';
      if (!isWorse(level, aim)) return { value, words: wordsOf(tried, place, setting) };
    }
  }
  return null;
}

/** Whether it is a value of E24, of which all coarser series are parts. */
function isSold(value: number): boolean {
  return preferredAbove(value / 1.001, 'E24') < value * 1.001;
}

function wordsOf(parts: readonly Part[], place: ChoicePlace, setting: ChoiceSetting): string {
  const [part] = parts;
  if (part === undefined) return '';
  const what = printValue(part, mainValue(part)!);
  if (part.kind !== 'capacitor') return what;
  const rule = fitRule(place, setting.around);
  const rating = soldVolts.find((rated) => {
    const bare = parts.map((each): Part => {
      const { body: _, ...rest } = each;
      return { ...rest, rated };
    });
    return !rule(bare).some(({ level, what: question }) => question === 'rating' && level === 'fail');
  });
  return `${what}${part.build === undefined ? '' : ` ${part.build.replaceAll('_', ' ')}`}${rating === undefined ? '' : `, ${rating} V or more`}`;
}
