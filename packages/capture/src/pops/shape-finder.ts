import { robustScale } from './robust-scale.ts';
import type { WhiteStretch } from './whitener.ts';

/** What a slow event looks like at the output. */
export type Shape = 'click' | 'step';

export interface ShapesFound {
  readonly found: readonly ShapeFound[];
  /** Height of the shape that has a strength of 1; of a click, one in a single sample. */
  readonly units: Readonly<Record<Shape, number>>;
}

export interface ShapeFound {
  readonly at: number;
  readonly shape: Shape;
  /** Of the shape that fits best, with its sign. */
  readonly height: number;
  /** In standard deviations of what the noise alone makes of that shape. */
  readonly strength: number;
}

/** The slow shapes' widths, in s: the bass of a click rings on for a while through an equaliser; a level has to last for half of `window`. */
const ringing = 0.002;
const window = 0.064;

/** No second event within so many s of a stronger one. */
const apart = 0.01;

/** Samples before and behind an event that its shapes need, at `rate`. */
export function shapeRoom(rate: number): { readonly lead: number; readonly tail: number } {
  const room = Math.round((window / 2) * rate) + Math.round(apart * rate);
  return { lead: room, tail: room };
}

/**
 * Finds clicks and steps too slow or too low to stand out sample by sample: the errors are correlated with what each shape would leave in them
 * (matched filter behind a predictor: M. Niedźwiecki, M. Ciołek, "Localization of impulsive disturbances in audio signals using template
 * matching", 2015, abstract seen). A steady level is taken out of the shapes, as a pulse's top would else stand out all along.
 */
export function shapeFinder(
  rate: number,
  longest: number,
): (white: WhiteStretch, from: number, to: number, limit: number) => ShapesFound {
  const half = Math.round((window / 2) * rate);
  const distance = Math.round(apart * rate);
  const scaleOf = robustScale(longest);
  const scores = shapes.map(() => new Float64Array(longest));
  return ({ coefficients, error, scale }, from, to, limit) => {
    const templates = shapes.map(({ shape, at }) => templateOf(coefficients, half, shape, (n) => at(n / rate)));
    const scales = templates.map(({ weights }, t) => {
      const score = scores[t]!;
      for (let n = 0; n < error.length; n++) score[n] = correlation(error, n - half, weights);
      // Fewer independent values than samples: never below what white errors come to.
      return Math.max(scale, scaleOf(score.subarray(0, error.length)));
    });
    const strengthOf = (t: number, n: number): number => scores[t]![n]! / scales[t]!;
    const best = (n: number): number => Math.max(...templates.map((_, t) => Math.abs(strengthOf(t, n))));
    const found: ShapeFound[] = [];
    for (let n = from; n < to; n++) {
      const strength = best(n);
      if (strength <= limit || !isPeak(best, n, distance, error.length)) continue;
      const t = templates.findIndex((_, each) => Math.abs(strengthOf(each, n)) === strength);
      found.push({ at: n, shape: templates[t]!.shape, height: heightOf(templates[t]!, scores[t]!, n), strength });
    }
    const unitOf = (shape: Shape): number => {
      const t = templates.findIndex((template) => template.shape === shape);
      return scales[t]! / templates[t]!.norm;
    };
    return { found, units: { click: unitOf('click'), step: unitOf('step') } };
  };
}

/** Level at the output, `s` after the event; the predictor sees what comes before it as a level, too. */
const shapes: readonly { readonly shape: Shape; readonly at: (s: number) => number }[] = [
  { shape: 'click', at: (s) => (s === 0 ? 1 : 0) },
  { shape: 'click', at: (s) => (s < 0 ? 0 : Math.exp(-s / ringing)) },
  { shape: 'step', at: (s) => (s < 0 ? -0.5 : 0.5) },
];

interface Template {
  readonly shape: Shape;
  /** Of the errors from `half` before the event to before `half` behind it; their squares sum to 1. */
  readonly weights: Float64Array;
  /** Correlation with a shape of height 1. */
  readonly norm: number;
  /** Correlation with the same a sample later. */
  readonly likeness: number;
}

function templateOf(coefficients: Float64Array, half: number, shape: Shape, levelAt: (n: number) => number): Template {
  const weights = Float64Array.from({ length: 2 * half }, (_, i) => {
    let sum = 0;
    for (let k = 0; k < coefficients.length; k++) sum += coefficients[k]! * levelAt(i - half - k);
    return sum;
  });
  const mean = weights.reduce((sum, weight) => sum + weight, 0) / weights.length;
  const level = weights.map((weight) => weight - mean);
  const norm = Math.sqrt(level.reduce((sum, weight) => sum + weight * weight, 0));
  const unit = level.map((weight) => weight / norm);
  const likeness = unit.reduce((sum, weight, i) => sum + weight * (unit[i + 1] ?? 0), 0);
  return { shape, weights: unit, norm, likeness };
}

/**
 * A step that comes within one slow sample stands half in it and half in the next: its height is that of both halves, by least squares. A click's
 * height is seen better at a finer rate.
 */
function heightOf({ shape, norm, likeness }: Template, score: Float64Array, n: number): number {
  const here = score[n]!;
  if (shape === 'click') return here / norm;
  const beside = [score[n - 1] ?? 0, score[n + 1] ?? 0];
  const other = Math.abs(beside[0]!) > Math.abs(beside[1]!) ? beside[0]! : beside[1]!;
  return (here + other) / ((1 + likeness) * norm);
}

/** Errors before the first and behind the last are taken as none. */
function correlation(error: Float64Array, at: number, weights: Float64Array): number {
  let sum = 0;
  const first = Math.max(0, -at);
  const end = Math.min(weights.length, error.length - at);
  for (let k = first; k < end; k++) sum += error[at + k]! * weights[k]!;
  return sum;
}

function isPeak(best: (n: number) => number, n: number, distance: number, length: number): boolean {
  const here = best(n);
  for (let k = Math.max(0, n - distance); k <= Math.min(length - 1, n + distance); k++) {
    const there = best(k);
    if (there > here || (there === here && k < n)) return false;
  }
  return true;
}
