import type { BenchAction } from '@curvewright/board';

/** One thing a bench can do to tell suspects apart. */
export interface NextStep {
  readonly kind: BenchAction;
  /** `measure the voltage`, `bridge C103 with a good one`. */
  readonly action: string;
  /** A node, a frequency and channel, a part. */
  readonly where: string;
  readonly minutes: number;
  /** bits about the suspects that the outcome is worth on average, and the same for each minute. */
  readonly bits: number;
  readonly bitsPerMinute: number;
  readonly caution: string;
  readonly outcomes: readonly Outcome[];
}

export interface Outcome {
  /** `about 3.0 V`, `the bass comes back`. */
  readonly shows: string;
  readonly probability: number;
  /** Who it would point at, the likeliest first: designators, or `nothing wrong`. */
  readonly points: readonly { readonly ref: string; readonly probability: number }[];
}
