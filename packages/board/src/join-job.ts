import { kelvin } from '@curvewright/quantity';
import { drawnAmbient, type Board } from './board.ts';
import type { Part } from './circuit.ts';
import type { Diagnostic, Outcome } from './diagnostics.ts';
import { addedParts } from './added-parts.ts';
import type { Job, JobPosition, Standing } from './job.ts';
import { drawnLeads, type DrawnLead } from './leads-beyond.ts';
import { mended } from './mended.ts';
import { joinReadings } from './join-readings.ts';
import { writtenPositions, type WrittenPosition } from './position-keys.ts';
import { inFileOrder } from './read-as.ts';
import type { JobFile } from './read-job.ts';
import type { PlaceOf } from './read-yaml.ts';
import type { PositionEntry } from './schema/job-schema.ts';
import { mergeLimits } from './schema/limits-schema.ts';
import { reinserted } from './reinserted.ts';
import { stated } from './stated.ts';
import type { Supply } from './supply.ts';
import { swapPartAt } from './swap-part.ts';
import { typeFaults } from './type-faults.ts';
import { fittedParts, pulledParts, type Swapped } from './swap.ts';

/** Joins a job with the board that it names; either the job or every fault found, in the order of the file. */
export function joinJob(job: JobFile, board: Board): Outcome<Job> {
  const { value: entry, placeOf } = job;
  const diagnostics: Diagnostic[] = [...typeFaults(entry.types ?? {}, placeOf)];
  const types = { ...board.types, ...entry.types };

  const written = writtenPositions(entry.positions ?? {}, board, placeOf);
  diagnostics.push(...written.diagnostics);
  const drawing = drawnLeads(board.circuit);
  const positions = board.circuit.parts.map((drawn) => {
    const holes = board.seats[drawn.ref]?.holes;
    const supply: Supply = { types, ...stated({ holes }) };
    const joined = joinPosition(drawn, written.byRef.get(drawn.ref), drawing, supply, placeOf);
    diagnostics.push(...joined.diagnostics);
    return joined.position;
  });
  const added = addedParts(entry.added ?? {}, board, types, placeOf);
  diagnostics.push(...added.diagnostics);
  const readings = joinReadings(entry, board.circuit, positions, added.parts, placeOf);
  // A position that could not be read leaves its leads unknown: what is wrong with it is said already.
  diagnostics.push(...(diagnostics.length > 0 ? [] : readings.diagnostics));
  if (diagnostics.length > 0) return { ok: false, diagnostics: inFileOrder(oncePerPlace(diagnostics)) };
  return {
    ok: true,
    value: {
      entry,
      board,
      positions,
      added: added.parts,
      types,
      readings: readings.readings,
      limits: mergeLimits(board.limits, entry.limits ?? {}),
      ambient: entry.ambient === undefined ? drawnAmbient : kelvin(entry.ambient),
    },
  };
}

function joinPosition(
  drawn: Part,
  written: WrittenPosition | undefined,
  drawing: readonly DrawnLead[],
  supply: Supply,
  placeOf: PlaceOf,
): { readonly position: JobPosition; readonly diagnostics: readonly Diagnostic[] } {
  if (written === undefined) return { position: { drawn }, diagnostics: [] };
  const { pulled, fit } = written;
  const old = pulled && pulledParts(drawn, swapPartAt(pulled.value, pulled.path, placeOf), supply, drawing);
  const fresh =
    mended(drawn.ref, old, written, placeOf) ?? (fit && fittedParts(drawn, fit.value, fit.path, placeOf, supply));
  const faults = [...(old?.diagnostics ?? []), ...(fresh?.diagnostics ?? [])];
  const turned = faults.length > 0 ? null : reinserted(drawn, fresh ?? old, written, supply, placeOf);
  const fitted = turned ?? fresh;
  return {
    position: {
      drawn,
      ...(old && { pulled: standingOf(old) }),
      ...(fitted && { fitted: standingOf(fitted) }),
      entry: entryOf(written),
    },
    diagnostics: [...faults, ...(turned?.diagnostics ?? [])],
  };
}

function standingOf({ parts, faults, notes }: Swapped): Standing {
  return { parts, faults, notes };
}

function entryOf(written: WrittenPosition): PositionEntry {
  return Object.fromEntries(Object.entries(written).map(([name, { value }]) => [name, value]));
}

/** The twins of a pair have the same fault at the same place: the first one is enough. */
function oncePerPlace(diagnostics: readonly Diagnostic[]): readonly Diagnostic[] {
  const seen = new Set<string>();
  return diagnostics.filter(({ code, place }) => {
    const key = `${code} ${place.line} ${place.column}`;
    return seen.has(key) ? false : seen.add(key);
  });
}
