import type { Job } from '@curvewright/board';
import { doneAlone, noiseAnswer } from '@curvewright/verify';
import type { RowEffect } from '../contract/sheet.ts';
import type { Bench } from './bench.ts';
import { keptEffect, rowEffect, type JobRow } from './row-effect.ts';

/** What the row alone does with the hiss, which takes as long as all the rest. */
export function rowEffectWithHiss(bench: Bench, job: Job, row: JobRow): RowEffect | null {
  const quick = rowEffect(bench, job, row);
  if (quick === null) return null;
  return keptEffect(bench, 'hiss', row, (refs, { probe: drawn }, channel) => {
    const alone = doneAlone(job, refs, drawn);
    if (alone === null) return null;
    const [now, before] = [alone, drawn].map(({ stage }) => noiseAnswer(stage).channels[channel]?.inputAWeightedUv);
    return { ...quick, hissDb: 20 * Math.log10((now ?? NaN) / (before ?? NaN)) };
  });
}
