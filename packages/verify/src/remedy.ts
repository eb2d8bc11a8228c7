import type { Limits, Part } from '@curvewright/board';
import { preferredAbove, preferredBelow, type Series } from '@curvewright/quantity';
import { figuresOf, type Figure, type Probe } from './figure.ts';
import { levelOf, worstLevel } from './judge.ts';
import { mainValue, type Variants } from './variants.ts';

/** A preferred value of one part with which a figure is good and no other figure leaves its level. */
export interface Remedy {
  readonly ref: string;
  readonly value: number;
  /** The figure with it. */
  readonly leaves: number;
}

/** Values tried on each side of the present one: two decades of E6, one of E12, half of one of E24. */
const tries = 12;
/** Steps off the present value, which the series may hold itself. */
const beyond = 1.001;

/** The nearest such value on either side of the present one, or null. */
export function remedyAt(
  part: Part,
  figure: Figure,
  limits: Limits,
  drawn: Probe | null,
  before: readonly Figure[],
  variants: Variants,
): Remedy | null {
  const value = mainValue(part);
  if (value === null || value <= 0) return null;
  let [above, below] = [value, value];
  const series = seriesFor(part);
  for (let n = 0; n < tries; n++) {
    above = preferredAbove(above * beyond, series);
    below = preferredBelow(below / beyond, series);
    for (const candidate of [above, below]) {
      const probe = variants.withValue(part.ref, candidate);
      if (probe === null) continue;
      const leaves = figure.search(probe);
      if (levelOf(figure, leaves) === 'good' && nothingWorse(before, figuresOf(probe, limits, drawn))) {
        return { ref: part.ref, value: candidate, leaves };
      }
    }
  }
  return null;
}

/** Electrolytics are sold in E6, other capacitors in E12, resistors in E24: common practice, no source. */
function seriesFor(part: Part): Series {
  if (part.kind !== 'capacitor') return 'E24';
  return part.build === 'film' || part.build === 'polystyrene' || part.build === 'mica' ? 'E12' : 'E6';
}

function nothingWorse(before: readonly Figure[], after: readonly Figure[]): boolean {
  return after.every((figure) => {
    const same = before.find(
      ({ what, channel, where }) =>
        what === figure.what && channel === figure.channel && (what !== 'node_volts' || where === figure.where),
    );
    const level = levelOf(figure);
    return same === undefined || worstLevel([levelOf(same), level]) === levelOf(same);
  });
}
