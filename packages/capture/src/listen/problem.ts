/** What can be wrong with a recording. */
export type ProblemCode =
  | 'no-start-marker'
  | 'no-end-marker'
  | 'wrong-rate'
  | 'other-rate'
  | 'clipping'
  | 'mono-mix'
  | 'one-channel'
  | 'channels-swapped'
  | 'level-control'
  | 'noise-gate'
  | 'dropped'
  | 'truncated';

/** One thing that is wrong with a recording, and when: seconds from the start of the recording. */
export interface Problem {
  readonly code: ProblemCode;
  /** Which recording: the board's, the loop-back or the shorted one. */
  readonly recording: 'board' | 'loopback' | 'shorted';
  /** Null where it is of both. */
  readonly channel: string | null;
  /** Null where it is of no single moment. */
  readonly fromS: number | null;
  readonly toS: number | null;
  /** What is wrong, and what to do. */
  readonly message: string;
}

/** A problem before it is known whose recording it is in. */
export type Trouble = Omit<Problem, 'recording'>;

export function inRecording(recording: Problem['recording'], troubles: readonly Trouble[]): readonly Problem[] {
  return troubles.map(({ code, ...rest }) => ({ code, recording, ...rest }));
}
