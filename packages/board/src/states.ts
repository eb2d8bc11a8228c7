import type { Circuit, Part } from './circuit.ts';
import { agePart } from './aged-part.ts';
import { describePart } from './describe-part.ts';
import { describeStanding } from './describe-standing.ts';
import type { Job, JobPosition, Standing, State } from './job.ts';
import { leadsOf } from './leads.ts';
import { withValue } from './part-value.ts';

/** A job's board in one state, and what that state rests on. */
export interface StateCircuit {
  readonly circuit: Circuit;
  /** Designators taken as drawn for want of a pulled part; empty but in `found`. */
  readonly assumed: readonly string[];
  /** What differs from the drawing, one entry for each designator. */
  readonly changed: readonly Change[];
  /** What the job says of the parts of this state that no computation takes up. */
  readonly notes: readonly string[];
}

export interface Change {
  readonly position: string;
  /** `1 µF film instead of 0.68 µF tantalum`. */
  readonly description: string;
}

/** The job's board as drawn, as found or as rebuilt; null for `found` where no position says what was pulled. */
export function circuitOf(job: Job, state: State): StateCircuit | null {
  switch (state) {
    case 'drawn':
      return { circuit: drawnCircuit(job), assumed: [], changed: [], notes: [] };
    case 'found': {
      if (job.positions.every((position) => position.pulled === undefined)) return null;
      const circuit = withStandings(job, (position) => position.pulled);
      const pulled = job.positions.filter((position) => position.pulled !== undefined);
      return {
        circuit,
        assumed: job.positions
          .filter((position) => position.pulled === undefined)
          .map((position) => position.drawn.ref),
        changed: pulled.map((position) => changeTo(position, position.pulled)),
        notes: pulled.flatMap((position) => position.pulled?.notes ?? []),
      };
    }
    case 'rebuilt': {
      const circuit = withStandings(job, afterWork, job.added);
      const touched = job.positions.filter((position) => afterWork(position) !== undefined);
      return {
        circuit,
        assumed: [],
        changed: [
          ...touched.map((position) => changeTo(position, afterWork(position))),
          ...job.added.map((part) => ({ position: part.position, description: `${describePart(part)}, added` })),
        ],
        notes: touched.flatMap((position) => afterWork(position)?.notes ?? []),
      };
    }
  }
}

/**
 * The drawn circuit with what the rebuilt one has in these positions alone. Each is a designator of the board or of an
 * added part; any other throws.
 */
export function circuitWithOnly(job: Job, refs: readonly string[]): Circuit {
  const chosen = chosenRefs(job, refs);
  return withStandings(
    job,
    (position) => (chosen.has(position.drawn.ref) ? afterWork(position) : undefined),
    job.added.filter((part) => chosen.has(part.position)),
  );
}

/**
 * The same circuit with the main value of one part replaced: Ω of a resistor or trimmer, F of a capacitor, H of an
 * inductor. Throws where there is no such part or it has no value.
 */
export function circuitWithValue(circuit: Circuit, ref: string, value: number): Circuit {
  if (!circuit.parts.some((part) => part.ref === ref)) throw new RangeError(`there is no part ${ref}`);
  return { ...circuit, parts: circuit.parts.map((part) => (part.ref === ref ? withValue(part, value) : part)) };
}

/** What stands in a position once the work is done, where it is not the drawn part. */
function afterWork(position: JobPosition): Standing | undefined {
  return position.fitted ?? position.pulled;
}

function drawnCircuit(job: Job): Circuit {
  return { ...job.board.circuit, ambient: job.ambient };
}

/**
 * The drawn circuit with the parts of some positions replaced and what is wrong there, and with the nodes inside fitted strings of shared
 * positions. Tracks crack first, while every lead still stands on its own node.
 */
function withStandings(
  job: Job,
  standingOf: (position: JobPosition) => Standing | undefined,
  added: readonly Part[] = [],
): Circuit {
  const drawn = drawnCircuit(job);
  const replaced = new Map(job.positions.map((position) => [position.drawn.ref, standingOf(position)?.parts]));
  const parts = [...drawn.parts.flatMap((part) => replaced.get(part.ref) ?? [part]), ...added];
  const shared = parts
    .filter((part) => part.channel === null && part.ref !== part.position)
    .flatMap((part) => Object.values(leadsOf(part)))
    .filter((node) => node.includes('.'));
  const whole: Circuit = { ...drawn, parts, common: [...new Set([...drawn.common, ...shared])] };
  const wrong = job.positions.flatMap((position) =>
    (standingOf(position)?.faults ?? []).map((fault) => ({ ref: position.drawn.ref, fault })),
  );
  const cracked = (each: (typeof wrong)[number]): boolean => each.fault.kind === 'cracked_track';
  return [...wrong.filter(cracked), ...wrong.filter((each) => !cracked(each))].reduce(
    (circuit, { ref, fault }) => agePart(circuit, ref, fault),
    whole,
  );
}

function changeTo({ drawn, fitted, entry }: JobPosition, standing: Standing | undefined): Change {
  const [now, before] = [describeStanding(standing ?? { parts: [], faults: [] }), describePart(drawn)];
  const mended = entry?.mended === true && standing === fitted ? ', mended' : '';
  const words = now === before && mended !== '' ? before : `${now} instead of ${before}`;
  return { position: drawn.ref, description: `${words}${mended}` };
}

function chosenRefs(job: Job, refs: readonly string[]): ReadonlySet<string> {
  const known = new Set([...job.positions.map(({ drawn }) => drawn.ref), ...job.added.map(({ position }) => position)]);
  for (const ref of refs) if (!known.has(ref)) throw new RangeError(`there is no position ${ref}`);
  return new Set(refs);
}
