import type { Part, RatingLimits } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import type { Level } from '../judge.ts';
import type { SettleAnswer } from '../settle.ts';
import type { Stage } from '../stage.ts';

/** What is asked of a part beside what it does to the signal: the key of its finding. */
export type FitName = 'rating' | 'polarity' | 'leads' | 'seat' | 'ceramic';

/** Of V, mA and mW that a part bears, mm of its size and leads that cross. */
export type FitUnit = 'V' | 'mA' | 'mW' | 'mm' | 'leads';

/** One question of fit about one part, answered. */
export interface FitRow {
  readonly what: FitName;
  readonly ref: string;
  /** The part's; null for one that the channels share. */
  readonly channel: string | null;
  readonly level: Level;
  /** Which of the questions, as the bench says it: `volts`, `VCEO`, `height`. */
  readonly where: string;
  readonly value: number;
  /** Distance to what is allowed, positive inside it; NaN where that is not stated. */
  readonly margin: number;
  readonly unit: FitUnit;
  /** What is allowed, in words: `6.3 V rated`. */
  readonly bound: string;
  readonly cause: string;
  readonly next: string;
}

/** What the questions are asked of. */
export interface FitContext {
  readonly stage: Stage;
  /** The same board as drawn; null for the drawn one itself. */
  readonly drawn: Stage | null;
  readonly ratings: RatingLimits;
  /** Null where the stage could not be switched on. */
  readonly settle: SettleAnswer | null;
}

/** Highest and lowest V from one lead to another, at the bias and on the way up. */
export interface Swing {
  readonly steady: number;
  readonly highest: number;
  readonly lowest: number;
}

/** Of its steady value, by which the run in time may pass it for its strides alone: twenty times what it does with a capacitor behind a resistor. */
const timeError = 1e-5;

/** `between`: lead minus lead, as the switch-on answer names the pair. */
export function swingOf({ settle }: FitContext, ref: string, between: string, steady: number): Swing {
  const seen = settle?.parts.find((each) => each.ref === ref && each.between === between);
  const rounded = (volts: number): number =>
    Math.abs(volts - steady) <= timeError * Math.abs(steady) ? steady : volts;
  return {
    steady,
    highest: Math.max(steady, rounded(seen?.highestV ?? steady)),
    lowest: Math.min(steady, rounded(seen?.lowestV ?? steady)),
  };
}

/** The furthest from 0 V that a swing reaches. */
export function furthest({ highest, lowest }: Swing): number {
  return Math.max(highest, -lowest);
}

/** Whether a part bears what is asked of it: nine digits are what the solution of a bias is good for. */
export function bears(allowed: number, asked: number): boolean {
  return allowed >= asked * (1 - 1e-9) - 1e-12;
}

/** Volts in words; what rounding or a nanoampere leaves counts as none. */
export function saidVolts(volts: number): string {
  return Math.abs(volts) < 1e-3 ? '0 V' : printQuantity(volts, 'V');
}

/** Watts in words, as `saidVolts`. */
export function saidWatts(watts: number): string {
  return watts < 1e-6 ? '0 W' : printQuantity(watts, 'W');
}

export function ofPart({ ref, channel }: Part): Pick<FitRow, 'ref' | 'channel'> {
  return { ref, channel };
}
