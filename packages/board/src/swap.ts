import type { Part } from './circuit.ts';
import type { Diagnostic } from './diagnostics.ts';
import type { FaultName, Fit, PulledPart, SwapPart } from './job.ts';
import { acrossNodes, leadsOf, twoLeads } from './leads.ts';
import { kindInWords } from './piece-keys.ts';
import { pieceAt } from './piece.ts';
import type { Supply } from './supply.ts';

/** What stands in a position after a swap: the parts, and what the job says of them that computing leaves out. */
export interface Swapped {
  readonly parts: readonly Part[];
  readonly notes: readonly string[];
  readonly diagnostics: readonly Diagnostic[];
}

/** The part as it was pulled from the place of `drawn`, with its faults: an open circuit leaves no part, a short is 0 Ω. */
export function pulledParts(drawn: Part, pulled: PulledPart, supply: Supply): Swapped {
  const piece = pieceAt(drawn, pulled, drawn.ref, false, supply);
  if ('diagnostics' in piece) return refused(piece.diagnostics);
  const { part } = piece;
  const notes = uncomputed(drawn.ref, pulled);
  const has = (fault: FaultName): boolean => pulled.faults.includes(fault);
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
  return { parts: [{ kind: 'resistor', ref, position, channel, place, ohms: 0, between: nodes }], notes, diagnostics: [] };
}

/**
 * What is fitted in the place of `drawn`. Members of a pair or string are called `D103.1`, `D103.2` …; in a string the
 * first is at the anode or plus side, and the node between the first two is `D103.1-2`, on the position's channel.
 */
export function fittedParts(drawn: Part, fit: Fit, supply: Supply): Swapped {
  if (fit.how === 'none') return { parts: [], notes: [], diagnostics: [] };
  if (fit.how === 'single') return joined([pieceAt(drawn, fit.part, drawn.ref, true, supply)]);
  const [only, ...others] = fit.parts;
  if (only !== undefined && others.length === 0) return joined([pieceAt(drawn, only, drawn.ref, true, supply)]);
  const ends = twoLeads(drawn);
  if (ends === null) {
    const how = fit.how === 'series' ? 'in series' : 'side by side';
    return only === undefined
      ? refused([])
      : mismatch(only, '', `${drawn.position} is ${kindInWords(drawn)}; only parts with two leads go ${how}`);
  }
  const inner = (after: number): string =>
    `${drawn.ref}.${after}-${after + 1}${drawn.channel === null ? '' : `@${drawn.channel}`}`;
  const last = fit.parts.length;
  return joined(
    fit.parts.map((written, index) => {
      const number = index + 1;
      const place =
        fit.how === 'parallel'
          ? drawn
          : acrossNodes(drawn, number === 1 ? ends[0] : inner(index), number === last ? ends[1] : inner(number));
      return pieceAt(place, written, `${drawn.ref}.${number}`, true, supply);
    }),
  );
}

/** What the job says of a pulled part that no computation takes up. */
function uncomputed(ref: string, pulled: PulledPart): string[] {
  const notes: string[] = [];
  const say = (what: string): void => {
    notes.push(`${ref}: ${what}; kept, not computed`);
  };
  if (pulled.faults.includes('noisy')) say('noisy');
  if (pulled.faults.includes('intermittent')) say('intermittent');
  if (pulled.faults.includes('leaky') && pulled.entry.leakage === undefined) say('leaky, with no leakage stated');
  if (pulled.ICBO !== undefined) say('ICBO');
  return notes;
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
  return refused([{ code: 'fit-mismatch', place: written.keyPlaces[key] ?? written.place, message }]);
}
