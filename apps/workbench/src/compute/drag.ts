import { liveStage, type LiveStage } from '@curvewright/verify';
import type { DragRequest, LiveCurves } from '../contract/compute.ts';
import type { Bench } from './bench.ts';

/** The state on which the verdict rests, ready to be moved; null where it is singular at its bias. */
export function liveBench({ staged }: Bench): LiveStage | null {
  const last = staged.states.at(-1);
  return last === undefined ? null : liveStage(last.probe.stage, staged.limits);
}

/** Null where no bias is found, and where a position has no value to move. */
export function drag(live: LiveStage | null, { refs, value }: DragRequest): LiveCurves | null {
  if (live === null || !(value > 0) || refs.some((ref) => !live.nominals.has(ref))) return null;
  return live.move(refs, value);
}
