import { leakageOhms, type Job, type JobPosition, type Part } from '@curvewright/board';
import { mainValue, valueText } from '../part-value.ts';

/** What one pulled part read, with the unit it came out of. */
export interface PastReading {
  readonly job: string;
  readonly board: string;
  readonly serial: string | null;
  readonly date: string | null;
  /** Years from the making of the unit to the job; null where the job states no year for one of them. */
  readonly ageYears: number | null;
  readonly ref: string;
  /** The build of a resistor or capacitor, the type of any other part, or its kind where neither is known. */
  readonly make: string;
  readonly kind: string;
  /** `0.68 µF`, `HN-A`. */
  readonly drawn: string;
  /** The value as read; null where none was. */
  readonly read: string | null;
  /** Value as read over value as drawn; null where no value was read. */
  readonly valueRatio: number | null;
  /** Ω. */
  readonly esrOhms: number | null;
  readonly leakageOhms: number | null;
  readonly hFE: number | null;
  readonly faults: readonly string[];
}

/** Every pulled part of a job, in the board's order. */
export function pulledReadings(job: Job): readonly PastReading[] {
  return job.positions.flatMap((position) => {
    const { pulled } = position;
    return pulled === undefined || position.entry?.pulled === undefined ? [] : [readingOf(job, position)];
  });
}

function readingOf({ entry: job, board }: Job, { drawn, pulled, entry }: JobPosition): PastReading {
  const stood = pulled?.parts.length === 1 ? pulled.parts[0]! : null;
  const written = entry?.pulled ?? {};
  const ratedVolts = stood?.kind === 'capacitor' ? stood.rated : undefined;
  return {
    job: job.title,
    board: board.title,
    serial: job.unit?.serial ?? null,
    date: job.date ?? null,
    ageYears: yearsBetween(job.unit?.made, job.date),
    ref: drawn.ref,
    make: makeOf(stood ?? drawn),
    kind: drawn.kind === 'typed' ? drawn.type.kind : drawn.kind,
    drawn: valueText(drawn),
    read: written.value === undefined || stood === null ? null : valueText(stood),
    valueRatio: written.value === undefined || stood === null ? null : ratio(stood, drawn),
    esrOhms: written.esr?.value ?? null,
    leakageOhms: written.leakage === undefined ? null : leakageOhms(written.leakage, ratedVolts),
    hFE: written.hFE?.points[0]?.value ?? null,
    faults: written.faults ?? [],
  };
}

function ratio(stood: Part, drawn: Part): number | null {
  const [is, was] = [mainValue(stood), mainValue(drawn)];
  return is === null || was === null || was === 0 ? null : is / was;
}

function makeOf(part: Part): string {
  if (part.kind === 'typed') return part.typeName;
  return (part.kind === 'capacitor' || part.kind === 'resistor' ? part.build : undefined) ?? part.kind;
}

function yearsBetween(made: number | undefined, date: string | undefined): number | null {
  const year = /^\s*(\d{4})\b/.exec(date ?? '')?.[1];
  return made === undefined || year === undefined ? null : Number(year) - made;
}
