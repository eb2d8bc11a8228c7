import type { Shop } from '@curvewright/board';
import type { CheckAnswer, ComparedRound, ReworkSheet, SpreadAnswer, VoltageChart } from '@curvewright/verify';

/** All that a proof tells of: the job's answers, and the files that they follow from. */
export interface ProofContent {
  /** Of the program. */
  readonly version: string;
  readonly shop: Shop | null;
  readonly answer: CheckAnswer;
  /** Of the last state; null where it could not be drawn. */
  readonly spread: SpreadAnswer | null;
  readonly sheet: ReworkSheet;
  /** The rebuilt board, as the meter reads it. */
  readonly volts: VoltageChart;
  /** Nodes that the channels share; none where there is one channel. */
  readonly shared: ReadonlySet<string>;
  readonly rounds: readonly ComparedRound[];
  readonly inputs: readonly ProofInput[];
}

/** A file that the answers follow from. */
export interface ProofInput {
  /** `job`, `board`, `shop`, `response, left`. */
  readonly role: string;
  /** From the folder of the sheet, `/` between. */
  readonly name: string;
  readonly bytes: number;
  /** Of its bytes, in hexadecimal digits. */
  readonly sha256: string;
}
