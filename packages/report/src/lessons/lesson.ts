import type { LessonId } from '@curvewright/verify';
import type { CurveFigure, Figure, Series } from '../figure/figure.ts';

/** A lesson on one board: plain data that any page can show. Its sentences are short, its trade words in the glossary. */
export interface Lesson {
  readonly id: LessonId;
  readonly title: string;
  /** The part that it is about; null where it is about the whole board. */
  readonly ref: string | null;
  /** What is told before the question. */
  readonly intro: readonly string[];
  readonly question: string;
  readonly figure: LessonFigure;
  readonly mark: Mark;
  /** The same figure with the answer in it. */
  readonly revealed: LessonFigure;
  /** The answer, and what it teaches, with the board's own numbers. */
  readonly told: readonly string[];
  readonly walk: Walk | null;
}

/** A curve, bars, or a picture of its own. */
export type LessonFigure = Figure | Picture;

export interface Picture {
  readonly kind: 'picture';
  readonly title: string;
  /** The inks are those of the page. */
  readonly svg: string;
}

/** What is predicted on the figure. */
export type Mark = LevelMark | ChoiceMark;

/** A height over one place of the figure's x axis. */
export interface LevelMark {
  readonly kind: 'level';
  /** `Level at 20 Hz`. */
  readonly label: string;
  readonly x: number;
  readonly from: number;
  readonly to: number;
  readonly step: number;
  readonly start: number;
  readonly unit: 'dB' | 'V';
  readonly answer: number;
  /** Marks that are no further off than this are right. */
  readonly close: number;
}

/** One of several things that the figure shows. */
export interface ChoiceMark {
  readonly kind: 'choice';
  readonly label: string;
  readonly options: readonly string[];
  /** Index of the right one. */
  readonly answer: number;
}

/** A value moved by hand, and what the board does with it. */
export interface Walk {
  /** `C103`. */
  readonly label: string;
  readonly figure: CurveFigure;
  /** Names of the numbers that each step brings. */
  readonly names: readonly string[];
  readonly start: number;
  readonly steps: readonly WalkStep[];
}

export interface WalkStep {
  readonly written: string;
  readonly series: readonly Series[];
  readonly numbers: readonly string[];
}

/** Why a lesson cannot be given on a board. */
export interface NoLesson {
  readonly id: LessonId;
  readonly title: string;
  readonly why: string;
}
