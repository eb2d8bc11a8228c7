import { levelOf, type Level } from '../judge.ts';
import type { SpreadFigure } from './spread-figures.ts';
import type { Sample } from './tally.ts';

/** One figure read off every board of a sample, and its verdict there. */
export interface FigureVerdicts {
  readonly figure: SpreadFigure;
  readonly values: Float32Array;
  /** 0 good, 1 look, 2 fail; in the order of the sample's numbers. */
  readonly levels: Uint8Array;
}

const ranks: Readonly<Record<Level, number>> = { good: 0, look: 1, 'not measured': 1, fail: 2 };

export function verdictsOf(figure: SpreadFigure, sample: Sample): FigureVerdicts {
  const values = sample.column(figure.place);
  const levels = new Uint8Array(values.length);
  for (let n = 0; n < values.length; n++) {
    const value = figure.read(values[n]!);
    values[n] = value;
    levels[n] = ranks[levelOf(figure, value)];
  }
  return { figure, values, levels };
}

/** How many of so many boards pass, as fractions; a board without a bias passes nothing. */
export interface Yield {
  /** No figure fails. */
  readonly passing: number;
  /** Every figure is good. */
  readonly good: number;
}

export function yieldOf(verdicts: readonly FigureVerdicts[], { boards, numbers }: Sample): Yield {
  const worst = new Uint8Array(numbers.length);
  for (const { levels } of verdicts) {
    for (let n = 0; n < worst.length; n++) worst[n] = Math.max(worst[n]!, levels[n]!);
  }
  return { passing: worst.filter((level) => level < 2).length / boards, good: shareAt(worst, 0, boards) };
}

/** The fraction of so many boards whose level is this one. */
export function shareAt(levels: Uint8Array, level: number, boards: number): number {
  return levels.filter((each) => each === level).length / boards;
}
