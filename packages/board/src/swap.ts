import type { Part } from './circuit.ts';
import type { Diagnostic } from './diagnostics.ts';
import type { Standing } from './job.ts';
import { acrossNodes, leadsOf, twoLeads } from './leads.ts';
import { kindInWords } from './piece-keys.ts';
import { pieceAt } from './piece.ts';
import type { Path, PlaceOf } from './read-yaml.ts';
import type { FitEntry } from './schema/fit-schema.ts';
import type { FaultName, PulledEntry, SwapEntry } from './schema/swap-schema.ts';
import type { Supply } from './supply.ts';
import { swapPartAt, type SwapPart } from './swap-part.ts';

/** What stands in a position after a swap, or what is wrong with what the job writes. */
export interface Swapped extends Standing {
  readonly diagnostics: readonly Diagnostic[];
}

/** The part as it was pulled from the place of `drawn`, with its faults: an open circuit leaves no part, a short is 0 Ω. */
export function pulledParts(drawn: Part, pulled: SwapPart<PulledEntry>, supply: Supply): Swapped {
  const piece = pieceAt(drawn, pulled, drawn.ref, false, supply);
  if ('diagnostics' in piece) return refused(piece.diagnostics);
  const { part } = piece;
  const notes = uncomputed(drawn.ref, pulled.entry);
  const has = (fault: FaultName): boolean => pulled.entry.faults?.includes(fault) ?? false;
  if (has('open_circuit') && has('short_circuit')) {
    return mismatch(pulled, 'faults', `${drawn.ref} cannot be an open and a short circuit at once; write one of them`);
  }
  if (has('open_circuit')) return { parts: [], notes, diagnostics: [] };
  if (!has('short_circuit')) return { parts: [part], notes, diagnostics: [] };
  const nodes = twoLeads(part);
  if (nodes === null) {
    const leads = Object.keys(leadsOf(part)).join(', ');
    return mismatch(
      pulled,
      'faults',
      `short_circuit does not say which leads of ${drawn.ref} are joined (${leads}); write open_circuit, or leave the fault out`,
    );
  }
  const { ref, position, channel, place } = part;
  return {
    parts: [{ kind: 'resistor', ref, position, channel, place, ohms: 0, between: nodes }],
    notes,
    diagnostics: [],
  };
}

/**
 * What is fitted in the place of `drawn`. Members of a pair or string are called `D103.1`, `D103.2` …; in a string the
 * first is at the anode or plus side, and the node between the first two is `D103.1-2`, on the position's channel.
 */
export function fittedParts(drawn: Part, fit: FitEntry, path: Path, placeOf: PlaceOf, supply: Supply): Swapped {
  if (fit === 'none') return { parts: [], notes: [], diagnostics: [] };
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

/** What the job says of a pulled part that no computation takes up. */
function uncomputed(ref: string, { faults = [], leakage, ICBO }: PulledEntry): string[] {
  const kept = [
    ...faults.filter((fault) => fault === 'noisy' || fault === 'intermittent'),
    ...(faults.includes('leaky') && leakage === undefined ? ['leaky, with no leakage stated'] : []),
    ...(ICBO === undefined ? [] : ['ICBO']),
  ];
  return kept.map((what) => `${ref}: ${what}; kept, not computed`);
}

function joined(pieces: readonly ReturnType<typeof pieceAt>[]): Swapped {
  return {
    parts: pieces.flatMap((piece) => ('part' in piece ? [piece.part] : [])),
    notes: [],
    diagnostics: pieces.flatMap((piece) => ('part' in piece ? [] : piece.diagnostics)),
  };
}

function refused(diagnostics: readonly Diagnostic[]): Swapped {
  return { parts: [], notes: [], diagnostics };
}

function mismatch(written: SwapPart, key: string, message: string): Swapped {
  return refused([
    { code: 'fit-mismatch', place: key === '' ? written.place : written.placeAt(key, 'value'), message },
  ]);
}
