import type { Job, JobPosition } from '@curvewright/board';
import { channelOf, doneAlone, movesOf, type StagedState } from '@curvewright/verify';
import type { RowEffect } from '../contract/sheet.ts';
import type { Bench } from './bench.ts';

/** A row of the job, with the positions that it speaks for. */
export interface JobRow {
  readonly key: string;
  readonly positions: readonly JobPosition[];
}

/** What the row alone does to the drawn board, without its hiss. Kept on the bench, so that only what was changed is solved again. */
export function rowEffect(bench: Bench, job: Job, row: JobRow): RowEffect | null {
  if (row.positions.every(({ fitted }) => fitted === undefined)) return null;
  return keptEffect(bench, 'quick', row, (refs, { probe: drawn }, channel) => {
    const alone = doneAlone(job, refs, drawn);
    if (alone === null) return null;
    const { at20HzDb, gainDb, balanceDb, node, nodeMv } = movesOf(alone, drawn, channel);
    return { at20HzDb, gainDb, balanceDb, node, nodeMv, hissDb: null };
  });
}

/** Made once for what stands in the row's positions. */
export function keptEffect(
  { staged, effects }: Bench,
  what: string,
  { positions }: JobRow,
  make: (refs: readonly string[], drawn: StagedState, channel: number) => RowEffect | null,
): RowEffect | null {
  const content = JSON.stringify([what, positions.map(standing)], (name, value: unknown) =>
    name === 'place' ? undefined : value,
  );
  const known = effects.get(content);
  if (known !== undefined) return known;
  const [drawn] = staged.states;
  const [first] = positions;
  if (drawn === undefined || first === undefined) return null;
  const refs = positions.map((position) => position.drawn.ref);
  const made = make(refs, drawn, channelOf(first.drawn, drawn.probe));
  effects.set(content, made);
  return made;
}

/** All that an effect follows from, the drawn board being the same. */
function standing({ drawn, pulled, fitted }: JobPosition): unknown {
  const now = fitted ?? pulled;
  return [drawn.ref, now?.parts, now?.faults];
}
