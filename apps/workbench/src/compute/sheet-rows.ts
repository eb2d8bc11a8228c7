import { describePart, describeStanding, readYaml, type Job, type JobPosition, type Part } from '@curvewright/board';
import type { Finding, StagedState } from '@curvewright/verify';
import type { RowEffect, SheetRow } from '../contract/sheet.ts';
import { partKind, partValue } from './part-value.ts';
import type { JobRow } from './row-effect.ts';
import { sheetFields } from './sheet-fields.ts';

/** The positions that the job speaks of, in its order. */
export function jobRows(job: Job): readonly JobRow[] {
  const byRef = new Map(job.positions.map((position) => [position.drawn.ref, position]));
  return Object.keys(job.entry.positions ?? {}).flatMap((key): readonly JobRow[] => {
    const positions = key.split('/').flatMap((ref) => byRef.get(ref) ?? []);
    return positions.length === 0 ? [] : [{ key, positions }];
  });
}

/** What the file writes under `positions`, key by key, texts as they stand there. */
export function writtenPositions(text: string): Readonly<Record<string, unknown>> {
  const file = readYaml(text, '').value as { readonly positions?: Readonly<Record<string, unknown>> } | null;
  return file?.positions ?? {};
}

export interface RowContext {
  readonly job: Job;
  readonly written: Readonly<Record<string, unknown>>;
  readonly rebuilt: StagedState;
  readonly findings: readonly Finding[];
}

/** Null where no position stands behind the row. */
export function sheetRow({ key, positions }: JobRow, effect: RowEffect | null, context: RowContext): SheetRow | null {
  const { job, written, rebuilt, findings } = context;
  const [position] = positions;
  if (position === undefined) return null;
  const refs = positions.map(({ drawn }) => drawn.ref);
  return {
    key,
    refs,
    kind: partKind(position.drawn),
    drawn: describePart(position.drawn),
    pulled: inWords(position.pulled),
    fitted: inWords(position.fitted),
    why: position.entry?.why ?? null,
    fields: sheetFields({ position, written: written[key], types: job.types }),
    movable: movable(refs, rebuilt),
    effect,
    findings: findings.filter(({ ref }) => refs.includes(ref)),
  };
}

function inWords(standing: JobPosition['pulled']): string | null {
  return standing === undefined ? null : describeStanding(standing);
}

/** The value of the first, where every one of these positions holds a single part with a value above 0. */
function movable(refs: readonly string[], { probe }: StagedState): number | null {
  const byRef = new Map(probe.stage.circuit.parts.map((part) => [part.ref, part]));
  const values = refs.map((ref) => valueOf(byRef.get(ref)));
  return values.every((value) => value > 0) ? (values[0] ?? null) : null;
}

function valueOf(part: Part | undefined): number {
  return part === undefined ? 0 : (partValue(part)?.value ?? 0);
}
