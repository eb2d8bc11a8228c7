import { nearestPreferred, preferredAbove, preferredBelow, printQuantity } from '@curvewright/quantity';
import type { Rung, SheetField } from '../contract/sheet.ts';
import type { PartValue } from './part-value.ts';

const nowhere = { lower: null, higher: null, ladder: null };

/** Where a value can go from here by preferred values; nowhere without a value or a series. */
export function preferredSteps(
  value: number | null,
  steps: Pick<PartValue, 'series' | 'unit'> | null,
): Pick<SheetField, 'lower' | 'higher' | 'ladder'> {
  if (value === null || steps === null || !(value > 0 && value < Infinity)) return nowhere;
  const { series, unit } = steps;
  const rung = (at: number): Rung => ({ written: printQuantity(at, unit), value: at });
  // A millionth beside a preferred value lies the next one.
  const below = (from: number): number => preferredBelow(from * (1 - 1e-6), series);
  const above = (from: number): number => preferredAbove(from * (1 + 1e-6), series);
  const last = nearestPreferred(value * 10, series);
  const ladder: Rung[] = [];
  for (let at = nearestPreferred(value / 10, series); at < last * (1 + 1e-6); at = above(at)) ladder.push(rung(at));
  return { lower: rung(below(value)).written, higher: rung(above(value)).written, ladder };
}
