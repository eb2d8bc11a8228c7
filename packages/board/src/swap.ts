import type { Part } from './circuit.ts';
import type { Diagnostic } from './diagnostics.ts';
import type { Standing } from './job.ts';
import { acrossNodes, twoLeads } from './leads.ts';
import { kindInWords } from './piece-keys.ts';
import { pieceAt } from './piece.ts';
import type { DrawnLead } from './leads-beyond.ts';
import { pulledFaults } from './pulled-faults.ts';
import { pulledNotes } from './pulled-notes.ts';
import type { Path, PlaceOf } from './read-yaml.ts';
import type { FitEntry } from './schema/fit-schema.ts';
import type { PulledEntry, SwapEntry } from './schema/swap-schema.ts';
import type { Supply } from './supply.ts';
import { swapPartAt, type SwapPart } from './swap-part.ts';

/** What stands in a position after a swap, or what is wrong with what the job writes. */
export interface Swapped extends Standing {
  readonly diagnostics: readonly Diagnostic[];
}

/** The part as it was pulled from the place of `drawn`, and its faults. */
export function pulledParts(
  drawn: Part,
  pulled: SwapPart<PulledEntry>,
  supply: Supply,
  drawing: readonly DrawnLead[],
): Swapped {
  const piece = pieceAt(drawn, pulled, drawn.ref, false, supply);
  if ('diagnostics' in piece) return refused(piece.diagnostics);
  const { part } = piece;
  return { parts: [part], notes: pulledNotes(part, pulled.entry), ...pulledFaults(part, pulled, drawing) };
}

/**
 * What is fitted in the place of `drawn`. Members of a pair or string are called `D103.1`, `D103.2` …; in a string the
 * first is at the anode or plus side, and the node between the first two is `D103.1-2`, on the position's channel.
 */
export function fittedParts(drawn: Part, fit: FitEntry, path: Path, placeOf: PlaceOf, supply: Supply): Swapped {
  if (fit === 'none') return { parts: [], faults: [], notes: [], diagnostics: [] };
  const inSeries = isSeries(fit);
  const written = writtenParts(fit, path, placeOf);
  const [only, ...others] = written;
  if (only === undefined) throw new TypeError('a fit without parts');
  if (others.length === 0) return joined([pieceAt(drawn, only, drawn.ref, true, supply)]);
  const ends = twoLeads(drawn);
  if (ends === null) {
    const how = inSeries ? 'in series' : 'side by side';
    return mismatch(only, '', `${drawn.position} is ${kindInWords(drawn)}; only parts with two leads go ${how}`);
  }
  const inner = (after: number): string =>
    `${drawn.ref}.${after}-${after + 1}${drawn.channel === null ? '' : `@${drawn.channel}`}`;
  const last = written.length;
  return joined(
    written.map((each, index) => {
      const number = index + 1;
      const place = inSeries
        ? acrossNodes(drawn, number === 1 ? ends[0] : inner(index), number === last ? ends[1] : inner(number))
        : drawn;
      return pieceAt(place, each, `${drawn.ref}.${number}`, true, supply);
    }),
  );
}

function writtenParts(fit: Exclude<FitEntry, 'none'>, path: Path, placeOf: PlaceOf): readonly SwapPart[] {
  if (isSeries(fit)) return fit.map((entry, index) => swapPartAt(entry, [...path, index], placeOf));
  if (!('parallel' in fit)) return [swapPartAt(fit, path, placeOf)];
  return fit.parallel.map((entry, index) => swapPartAt(entry, [...path, 'parallel', index], placeOf));
}

/** Narrows a readonly array, which `Array.isArray` does not. */
function isSeries(fit: FitEntry): fit is readonly SwapEntry[] {
  return Array.isArray(fit);
}

function joined(pieces: readonly ReturnType<typeof pieceAt>[]): Swapped {
  return {
    parts: pieces.flatMap((piece) => ('part' in piece ? [piece.part] : [])),
    faults: [],
    notes: [],
    diagnostics: pieces.flatMap((piece) => ('part' in piece ? [] : piece.diagnostics)),
  };
}

function refused(diagnostics: readonly Diagnostic[]): Swapped {
  return { parts: [], faults: [], notes: [], diagnostics };
}

function mismatch(written: SwapPart, key: string, message: string): Swapped {
  return refused([
    { code: 'fit-mismatch', place: key === '' ? written.place : written.placeAt(key, 'value'), message },
  ]);
}
