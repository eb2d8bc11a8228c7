import type { Diagnostic, State } from '@curvewright/board';
import type { HeadroomAnswer, LoadingAnswer, NoiseAnswer, SettleAnswer, SpreadAnswer } from '@curvewright/verify';
import type { SheetView, SubjectText } from './sheet.ts';

/** What takes longer than a frame, by the name it is asked for. */
export interface SlowAnswers {
  /** The sheet complete: verdict, findings, told figures, the rows' hiss. */
  readonly told: SheetView;
  readonly noise: NoiseAnswer;
  /** With the board's first cartridge. */
  readonly loading: LoadingAnswer;
  readonly settle: SettleAnswer;
  readonly headroom: HeadroomAnswer;
  readonly spread: SpreadAnswer;
}

export type SlowKind = keyof SlowAnswers;

export interface SlowRequest<K extends SlowKind = SlowKind> {
  readonly kind: K;
  readonly subject: SubjectText;
  /** Of which state; `told` speaks of all. Null: the one on which the verdict rests. */
  readonly state: State | null;
}

export type SlowOutcome<K extends SlowKind = SlowKind> = { readonly revision: number } & (
  | { readonly outcome: 'answered'; readonly answer: SlowAnswers[K] }
  | { readonly outcome: 'refused'; readonly diagnostics: readonly Diagnostic[] }
  /** Something newer was asked for first. */
  | { readonly outcome: 'overtaken' }
);
