import { preferredAbove, preferredBelow } from '@curvewright/quantity';
import { withValue, type Part } from '@curvewright/board';
import { soldVolts } from '../fit/sold-volts.ts';
import { isWorse, type Level } from '../judge.ts';
import { mainValue, printValue } from '../part-value.ts';
import { seriesFor } from '../remedy.ts';

import { withChoices, type Choice, type ChoicePlace } from './choice-place.ts';
import { confirm } from './confirm.ts';
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

/** The preferred value nearest to the drawn one with which bias, curve, hum and crosstalk are no worse than this; null where there is none, or no value to have. */
export function orderFor(place: ChoicePlace, setting: ChoiceSetting, than: Level): Order | null {
  const [drawn] = place.drawn;
  const parts = place.refs.map((_, n) => (place.planned[n]?.length === 1 ? place.planned[n][0]! : place.drawn[n]!));
  const [model] = parts;
  const before = drawn === undefined ? null : mainValue(drawn);
  if (model === undefined || before === null || before <= 0 || model.kind === 'trimmer') return null;
  const series = seriesFor(model);
  let [above, below] = [before, before];
  for (let n = 0; n < tries; n++) {
    // The series itself may hold the value: the first step has to leave it, the drawn value is asked first.
    const steps =
      n === 0
        ? [before]
        : [(above = preferredAbove(above * 1.001, series)), (below = preferredBelow(below / 1.001, series))];
    for (const value of steps) {
      const tried = parts.map((part) => withValue(part, value));
      if (isNoWorse({ place, parts: tried }, setting, than))
        return { value, words: wordsOf(tried, place, setting) };
    }
  }
  return null;
}

function isNoWorse(choice: Choice, setting: ChoiceSetting, than: Level): boolean {
  if (isWorse(setting.try([choice])?.level ?? 'fail', than)) return false;
  const circuit = withChoices(setting.base.stage.circuit, [choice]);
  return !isWorse(confirm(circuit, setting, 'bias, curve, hum and crosstalk')?.level ?? 'fail', than);
}

function wordsOf(parts: readonly Part[], place: ChoicePlace, { base, drawn, limits, settle }: ChoiceSetting): string {
  const [part] = parts;
  if (part === undefined) return '';
  const what = printValue(part, mainValue(part)!);
  if (part.kind !== 'capacitor') return what;
  const rule = fitRule(place, { base: base.stage, drawn: drawn.stage, ratings: limits.ratings, settle });
  const rating = soldVolts.find((rated) => {
    const bare = parts.map((each): Part => {
      const { body: _, ...rest } = each;
      return { ...rest, rated };
    });
    return !rule(bare).some(({ level, what: question }) => question === 'rating' && level === 'fail');
  });
  return `${what}${part.build === undefined ? '' : ` ${part.build.replaceAll('_', ' ')}`}${rating === undefined ? '' : `, ${rating} V or more`}`;
}
