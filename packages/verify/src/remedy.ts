import type { Limits, Part } from '@curvewright/board';
import { preferredAbove, preferredBelow, type Series } from '@curvewright/quantity';
import { isOfFault } from './designator.ts';
import { figuresOf, type Figure, type Probe } from './figure.ts';
import type { FurtherReader } from './further-answers.ts';
import { isWorse, levelOf } from './judge.ts';
import { mainValue } from './part-value.ts';
import type { ToldFigure } from './told-figure.ts';
import type { Variants } from './variants.ts';

/** A preferred value of one part and its twins with which a figure is good and no other figure leaves its level. */
export interface Remedy {
  readonly part: Part;
  /** Those that get the same value: they stand in the same place of the other channels, with the same value now. */
  readonly twins: readonly Part[];
  readonly value: number;
  /** The stage with it. */
  readonly probe: Probe;
  /** The figure with it. */
  readonly leaves: number;
  /** How many figures that are not good become good with it. */
  readonly mends: number;
  /** Preferred values between the present one and it. */
  readonly steps: number;
}

export interface RemedyContext {
  /** Of bias and curve. */
  readonly figures: readonly Figure[];
  readonly told: readonly ToldFigure[];
  readonly further: FurtherReader;
  readonly limits: Limits;
  readonly drawn: Probe | null;
  readonly variants: Variants;
}

/** Preferred values tried on each side of the present one: two decades of E6, one of E12, half of one of E24. */
const tries = 12;
/** Off the present value, which the series may hold itself. */
const beyond = 1.001;

/** Whether a part comes in values among which one could be chosen. */
export function hasValues(part: Part): boolean {
  return (mainValue(part) ?? 0) > 0 && !isOfFault(part);
}

/** The remedy among these parts that mends most, then the one nearest to what stands there now; null where none serves. */
export function bestRemedy(parts: readonly Part[], figure: Figure, context: RemedyContext): Remedy | null {
  const remedies = parts.flatMap((part) => nearestRemedy(part, figure, context) ?? []);
  const ranked = remedies.toSorted((a, b) => b.mends - a.mends || a.steps - b.steps);
  return ranked.find(({ probe }) => holdsDear(probe, context)) ?? null;
}

function nearestRemedy(part: Part, figure: Figure, context: RemedyContext): Remedy | null {
  if (!hasValues(part)) return null;
  const [above, below] = [candidatesOn('above', part, context), candidatesOn('below', part, context)];
  for (let n = 0; n < tries; n++) {
    for (const candidate of [above[n]!, below[n]!]) {
      const remedy = remedyOf(candidate(), figure, context);
      if (remedy !== null) return remedy;
    }
  }
  return null;
}

/**
 * The same for a figure too dear to be read at every value: it is taken to change one way from the present value to the furthest with
 * which the other figures hold, so that halving finds the nearest value that serves. Of the first of the parts that has one.
 */
export function firstDearRemedy(parts: readonly Part[], figure: Figure, context: RemedyContext): Remedy | null {
  for (const part of parts.filter(hasValues)) {
    const remedies = (['above', 'below'] as const).flatMap((side) => halvedRemedy(side, part, figure, context) ?? []);
    const remedy = remedies.toSorted((a, b) => a.steps - b.steps).find(({ probe }) => holdsDear(probe, context));
    if (remedy !== undefined) return remedy;
  }
  return null;
}

function halvedRemedy(side: Side, part: Part, figure: Figure, context: RemedyContext): Remedy | null {
  const holding: Candidate[] = [];
  for (const candidate of candidatesOn(side, part, context).map((make) => make())) {
    if (candidate.probe === null || mendedBy(candidate.probe, context) === null) break;
    holding.push(candidate);
  }
  let found = holding.length === 0 ? null : remedyOf(holding.at(-1)!, figure, context);
  let [low, high] = [0, holding.length - 1];
  while (found !== null && low < high) {
    const middle = Math.floor((low + high) / 2);
    const remedy = remedyOf(holding[middle]!, figure, context);
    if (remedy === null) low = middle + 1;
    else [found, high] = [remedy, middle];
  }
  return found;
}

type Side = 'above' | 'below';

interface Candidate {
  readonly part: Part;
  readonly twins: readonly Part[];
  readonly value: number;
  readonly steps: number;
  readonly probe: Probe | null;
}

/** The next preferred values, nearest first, each solved when it is called for. */
function candidatesOn(side: Side, part: Part, { variants }: RemedyContext): readonly (() => Candidate)[] {
  const series = seriesFor(part);
  const twins = variants.twinsOf(part);
  let value = mainValue(part)!;
  return Array.from({ length: tries }, (_, n) => {
    value = side === 'above' ? preferredAbove(value * beyond, series) : preferredBelow(value / beyond, series);
    const at = value;
    return () => ({ part, twins, value: at, steps: n + 1, probe: variants.withTwinsAt(part, at) });
  });
}

function remedyOf(
  { part, twins, value, steps, probe }: Candidate,
  figure: Figure,
  context: RemedyContext,
): Remedy | null {
  if (probe === null || !isPromising(probe, figure, quickFigures(context))) return null;
  const leaves = figure.search(probe);
  if (levelOf(figure, leaves) !== 'good') return null;
  const mends = mendedBy(probe, context);
  return mends === null ? null : { part, twins, value, probe, leaves, mends, steps };
}

/**
 * Whether the figure is good, and no figure worse than it was, where each was found: what fails there fails in a search of the whole
 * band too, which costs a hundred times more.
 */
function isPromising(probe: Probe, figure: Figure, figures: readonly Figure[]): boolean {
  if (figures.some((each) => isWorse(levelOf(each, each.follow(probe)), levelOf(each)))) return false;
  return levelOf(figure, figure.follow(probe)) === 'good';
}

function quickFigures({ figures, told }: RemedyContext): readonly Figure[] {
  return [...figures, ...told.filter(({ dear }) => !dear)];
}

function holdsDear(probe: Probe, { told }: RemedyContext): boolean {
  const holds = (each: ToldFigure): boolean =>
    each.stays?.(probe) === true || !isWorse(levelOf(each, each.search(probe)), levelOf(each));
  return told.filter(({ dear }) => dear).every(holds);
}

/** Electrolytics are sold in E6, other capacitors in E12, resistors in E24: common practice, no source. */
export function seriesFor(part: Part): Series {
  if (part.kind !== 'capacitor') return 'E24';
  return part.build === 'film' || part.build === 'polystyrene' || part.build === 'mica' ? 'E12' : 'E6';
}

/** How many of the figures that are not dear become good; null where one gets a worse level. */
function mendedBy(probe: Probe, { figures, told, limits, drawn }: RemedyContext): number | null {
  const levels = figuresOf(probe, limits, drawn).flatMap((figure) => {
    const same = figures.find(
      ({ what, channel, where }) =>
        what === figure.what && channel === figure.channel && (what !== 'node_volts' || where === figure.where),
    );
    return same === undefined ? [] : [[levelOf(same), levelOf(figure)] as const];
  });
  for (const each of told) if (!each.dear) levels.push([levelOf(each), levelOf(each, each.search(probe))]);
  if (levels.some(([was, is]) => isWorse(is, was))) return null;
  return levels.filter(([was, is]) => is === 'good' && was !== 'good').length;
}
