import type { Circuit, Suspecting } from '@curvewright/board';
import type { Source } from '@curvewright/network';
import type { Evidence } from './evidence.ts';

/** A board, what was read and heard of it, and what a job says of how to weigh it. */
export interface SuspectRequest {
  readonly circuit: Circuit;
  readonly source: Source;
  /** Groups of designators that draw alike. */
  readonly matched: readonly (readonly string[])[];
  readonly evidence: Evidence;
  readonly suspecting?: Suspecting;
}
