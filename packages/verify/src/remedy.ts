import type { Limits, Part } from '@curvewright/board';
import { preferredAbove, preferredBelow, type Series } from '@curvewright/quantity';
import { figuresOf, type Figure, type Probe } from './figure.ts';
import { levelOf, worstLevel, type Level } from './judge.ts';
import { mainValue } from './part-value.ts';
import type { Variants } from './variants.ts';

/** A preferred value of one part and its twins with which a figure is good and no other figure leaves its level. */
export interface Remedy {
  readonly part: Part;
  readonly value: number;
  /** The figure with it. */
  readonly leaves: number;
  /** How many figures that are not good become good with it. */
  readonly mends: number;
  /** Preferred values between the present one and it. */
  readonly steps: number;
}

export interface RemedyContext {
  readonly figures: readonly Figure[];
  readonly limits: Limits;
  readonly drawn: Probe | null;
  readonly variants: Variants;
}

/** Preferred values tried on each side of the present one: two decades of E6, one of E12, half of one of E24. */
const tries = 12;
/** Off the present value, which the series may hold itself. */
const beyond = 1.001;

/** The remedy among these parts that mends most, then the one nearest to what stands there now; null where none serves. */
export function bestRemedy(parts: readonly Part[], figure: Figure, context: RemedyContext): Remedy | null {
  const remedies = parts.flatMap((part) => remedyAt(part, figure, context) ?? []);
  return remedies.toSorted((a, b) => b.mends - a.mends || a.steps - b.steps)[0] ?? null;
}

function remedyAt(part: Part, figure: Figure, { figures, limits, drawn, variants }: RemedyContext): Remedy | null {
  const value = mainValue(part);
  if (value === null || value <= 0) return null;
  const series = seriesFor(part);
  let [above, below] = [value, value];
  for (let steps = 1; steps <= tries; steps++) {
    above = preferredAbove(above * beyond, series);
    below = preferredBelow(below / beyond, series);
    for (const candidate of [above, below]) {
      const probe = variants.withTwinsAt(part, candidate);
      if (probe === null || !isPromising(probe, figure, figures)) continue;
      const leaves = figure.search(probe);
      if (levelOf(figure, leaves) !== 'good') continue;
      const mends = mendedBy(figures, figuresOf(probe, limits, drawn));
      if (mends !== null) return { part, value: candidate, leaves, mends, steps };
    }
  }
  return null;
}

/**
 * Whether the figure is good, and no figure worse than it was, where each was found: what fails there fails in a search of the whole
 * band too, which costs a hundred times more.
 */
function isPromising(probe: Probe, figure: Figure, figures: readonly Figure[]): boolean {
  if (levelOf(figure, figure.follow(probe)) !== 'good') return false;
  return figures.every((each) => !isWorse(levelOf(each, each.follow(probe)), levelOf(each)));
}

function isWorse(level: Level, than: Level): boolean {
  return level !== than && worstLevel([level, than]) === level;
}

/** Electrolytics are sold in E6, other capacitors in E12, resistors in E24: common practice, no source. */
function seriesFor(part: Part): Series {
  if (part.kind !== 'capacitor') return 'E24';
  return part.build === 'film' || part.build === 'polystyrene' || part.build === 'mica' ? 'E12' : 'E6';
}

/** How many figures become good; null where one gets a worse level. */
function mendedBy(before: readonly Figure[], after: readonly Figure[]): number | null {
  let mends = 0;
  for (const figure of after) {
    const same = before.find(
      ({ what, channel, where }) =>
        what === figure.what && channel === figure.channel && (what !== 'node_volts' || where === figure.where),
    );
    if (same === undefined) continue;
    const [was, is] = [levelOf(same), levelOf(figure)];
    if (isWorse(is, was)) return null;
    if (is === 'good' && was !== 'good') mends++;
  }
  return mends;
}
