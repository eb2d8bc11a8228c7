import type { FaultKind, Heard as Word } from '@curvewright/board';
import type { NextStep } from './next/step.ts';

/** What readings and ear say of a board: which fault explains them, and what to look at next. */
export interface SuspectAnswer {
  /** `nothing wrong`: nothing in these readings; `no single fault` explains them: the suspects are then pairs. */
  readonly answer: 'suspects' | 'nothing wrong' | 'no single fault';
  /** Probability that nothing is wrong. */
  readonly nothingWrong: number;
  /** Rails whose reading is off: to be put right before anything else is believed. */
  readonly rails: readonly {
    readonly rail: string;
    readonly volts: number;
    readonly expected: number;
    readonly advice: string;
  }[];
  readonly readings: readonly ReadAgainst[];
  readonly heard: readonly { readonly what: Word; readonly channel: string | null }[];
  /** The likeliest first. */
  readonly suspects: readonly Suspect[];
  /** Each part with all that it is suspected of together, the likeliest first. */
  readonly parts: readonly { readonly ref: string; readonly probability: number }[];
  /** Suspects that these readings cannot tell apart: their designators, of a pair `R107 and Q104`. */
  readonly ties: readonly (readonly string[])[];
  readonly next: readonly NextStep[];
  /** Faults that would leave a board without a computable bias, and are not weighed. */
  readonly unknown: readonly { readonly ref: string; readonly fault: FaultKind }[];
  /** What the answer rests on. */
  readonly notes: readonly string[];
}

export interface ReadAgainst {
  readonly name: string;
  readonly unit: 'V' | 'Ω' | 'dB';
  readonly measured: number;
  /** What a healthy board shows, and how far healthy boards and the meter stray from it, one standard deviation. */
  readonly normal: number;
  readonly sigma: number;
}

export interface Suspect {
  readonly faults: readonly Suspicion[];
  readonly probability: number;
  /** χ² of the readings against the prediction, and the probability of one so large by chance. */
  readonly square: number;
  readonly chance: number;
  /** What it predicts for each reading. */
  readonly predicted: readonly number[];
}

export interface Suspicion {
  /** A designator; a rail for its supply. */
  readonly ref: string;
  /** Of two exchanged parts the other one; of a crack the others beyond it. */
  readonly others: readonly string[];
  readonly channel: string | null;
  readonly fault: FaultKind;
  readonly words: string;
  /** Fitted; null where there is nothing to fit. */
  readonly value: number | null;
  /** Null: a ratio, or no value. */
  readonly unit: string | null;
}
