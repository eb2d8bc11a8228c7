import { describeStanding, type Circuit, type Job, type Part } from '@curvewright/board';

/** A position of the board with its twins in the other channels: one choice serves them all. */
export interface ChoicePlace {
  /** Designators, in the board's order. */
  readonly refs: readonly string[];
  /** The drawn part of each. */
  readonly drawn: readonly Part[];
  /** What stands in each once the work is done as the job has it. */
  readonly planned: readonly (readonly Part[])[];
  /** In words, of the first: `22 µF aluminium`. */
  readonly description: string;
}

/** What a choice puts into a place: the parts of all its designators together. */
export interface Choice {
  readonly place: ChoicePlace;
  readonly parts: readonly Part[];
}

/** The positions that the job fits a part to or knows a pulled one of, in the board's order; where it speaks of none, all that take a part. */
export function touchedPlaces(job: Job, rebuilt: Circuit): readonly ChoicePlace[] {
  const touched = new Set(
    job.positions
      .filter(({ entry }) => entry?.fit !== 'none' && (entry?.fit !== undefined || entry?.pulled !== undefined))
      .map(({ drawn }) => drawn.ref),
  );
  const isTouched = (ref: string): boolean => touched.size === 0 || touched.has(ref);
  return job.board.positions.filter((refs) => refs.some(isTouched)).map((refs) => placeOf(refs, job, rebuilt));
}

/** The place that one of its designators, or all of them (`C101/C102`), names; null where the board has none. */
export function placeNamed(name: string, job: Job, rebuilt: Circuit): ChoicePlace | null {
  const refs = job.board.positions.find((group) => group.includes(name) || group.join('/') === name);
  return refs === undefined ? null : placeOf(refs, job, rebuilt);
}

function placeOf(refs: readonly string[], job: Job, rebuilt: Circuit): ChoicePlace {
  const drawn = refs.map((ref) => job.positions.find((each) => each.drawn.ref === ref)!.drawn);
  const planned = refs.map((ref) => rebuilt.parts.filter(({ position }) => position === ref));
  return { refs, drawn, planned, description: describeStanding({ parts: planned[0] ?? [], faults: [] }) };
}

/** A circuit with other parts in some places, each in its old place of the order. */
export function withChoices(circuit: Circuit, choices: readonly Choice[]): Circuit {
  const parts = [...circuit.parts];
  for (const { place, parts: chosen } of choices) {
    for (const ref of place.refs) {
      const at = parts.findIndex(({ position }) => position === ref);
      const kept = parts.filter(({ position }) => position !== ref);
      kept.splice(at < 0 ? kept.length : at, 0, ...chosen.filter(({ position }) => position === ref));
      parts.splice(0, parts.length, ...kept);
    }
  }
  // The nodes inside a string of parts between shared nodes are shared, too.
  const inner = choices
    .flatMap((each) => each.parts)
    .filter(({ channel, ref, position }) => channel === null && ref !== position);
  const nodes = inner.flatMap((part) => (part.kind === 'typed' ? Object.values(part.leads) : []));
  return {
    ...circuit,
    parts,
    common: [...new Set([...circuit.common, ...nodes.filter((node) => node.includes('.'))])],
  };
}
