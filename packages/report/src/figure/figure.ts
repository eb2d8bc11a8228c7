import type { Look } from './figure-style.ts';
import type { Axis } from './scales.ts';

/** What a figure draws, as plain data: the static plate and the live one on the page are both made of this. */
export type Figure = CurveFigure | BarFigure;

export type FigureId =
  'deviation' | 'response' | 'balance' | 'hiss' | 'input' | 'cartridge' | 'switch-on' | 'overload' | 'lesson' | 'pops';

interface Titled {
  readonly id: FigureId;
  readonly title: string;
  /** The figure's numbers in sentences, for whoever does not see it. */
  readonly words: string;
}

export interface CurveFigure extends Titled {
  readonly kind: 'curves';
  readonly x: Axis;
  readonly y: Axis;
  /** Later ones lie over earlier ones. */
  readonly series: readonly Series[];
  /** Below everything else. */
  readonly bands: readonly Band[];
  readonly limits: readonly LimitLine[];
  readonly notes: readonly Note[];
}

/** A line in the axes' units; a point without a number interrupts it. */
export interface Series {
  /** `rebuilt`. */
  readonly label: string;
  /** Null where a line is of no single channel. */
  readonly channel: string | null;
  readonly look: Look;
  /** A fine second line runs beside it: the second channel. */
  readonly double: boolean;
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
}

/** The room between two lines over the same x. */
export interface Band {
  readonly name: string;
  readonly look: Look;
  readonly x: ArrayLike<number>;
  readonly low: ArrayLike<number>;
  readonly high: ArrayLike<number>;
}

/** A hairline at a value of y from one x to another, with its value on it. */
export interface LimitLine {
  readonly level: 'good' | 'look';
  /** Which side of it is kept: below an upper limit, above a lower one. */
  readonly side: 'upper' | 'lower';
  readonly value: number;
  readonly from: number;
  readonly to: number;
  /** `+0.5 dB good`, and `+0.5` where there is little room. */
  readonly text: string;
  readonly short: string;
}

/** A point of a line worth a word. */
export interface Note {
  readonly look: Look;
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

/** `rebuilt, left`. */
export function seriesName({ label, channel }: Pick<Series, 'label' | 'channel'>): string {
  return channel === null ? label : `${label}, ${channel}`;
}

export interface BarFigure extends Titled {
  readonly kind: 'bars';
  /** What the bars' length is. */
  readonly axis: Axis;
  readonly look: Look;
  /** Of the bars of a row, channel by channel; all but the first have a fine second line beside them. */
  readonly names: readonly string[];
  /** Longest first. */
  readonly rows: readonly BarRow[];
}

export interface BarRow {
  readonly label: string;
  /** In the order of `names`. */
  readonly values: readonly number[];
  /** As the values are written. */
  readonly texts: readonly string[];
}
