import type { Part, PartCommon } from './circuit.ts';
import type { Diagnostic } from './diagnostics.ts';
import { asInserted } from './insertion.ts';
import { keysFor, kindInWords } from './piece-keys.ts';
import { buildOf, figureOf, leakageOf } from './piece-figures.ts';
import { capacitorBuilds, resistorBuilds } from './schema/part-schema.ts';
import { shown } from './schema/fields.ts';
import type { SwapEntry } from './schema/swap-schema.ts';
import { stated } from './stated.ts';
import type { Refuse, Supply } from './supply.ts';
import type { SwapPart } from './swap-part.ts';
import { typedPiece } from './typed-piece.ts';

/** Keys of a pulled part that say what is wrong with it; which of them fit is its faults' to judge. */
const pulledKeys: readonly string[] = ['faults', 'ICBO', 'junction', 'lead', 'contact', 'beyond'];

/** A part built from what the job writes, or why it cannot be. */
export type Piece = { readonly part: Part } | { readonly diagnostics: readonly Diagnostic[] };

/**
 * The part that `written` describes, on the nodes of `drawn` and named `ref`. A fresh part takes nothing from the drawn
 * one but its nodes, its kind, a silent value and the setting of a trimmer or switch; one that is not fresh is the drawn
 * part wherever the job is silent.
 */
export function pieceAt(drawn: Part, written: SwapPart, ref: string, fresh: boolean, supply: Supply): Piece {
  const diagnostics: Diagnostic[] = [];
  const refuse: Refuse = (code, key, message) => {
    diagnostics.push({ code, place: written.placeAt(key, 'value'), message: `${drawn.position}: ${message}` });
  };
  const allowed = keysFor(drawn);
  for (const key of Object.keys(written.entry)) {
    if (allowed.includes(key) || (!fresh && pulledKeys.includes(key))) continue;
    const message = `${drawn.position} is ${kindInWords(drawn)}, which has no ${key}; write ${allowed.join(', ')}`;
    diagnostics.push({ code: 'fit-mismatch', place: written.placeAt(key, 'key'), message });
  }
  const { position, channel } = drawn;
  const body = written.entry.body ?? (fresh ? undefined : drawn.body);
  const common: PartCommon = {
    ...{ ref, position, channel, place: written.place },
    ...stated({ seat: drawn.seat, body, fitted: fresh ? (true as const) : undefined }),
  };
  const part = build(drawn, written.entry, common, fresh, supply, refuse);
  const standing =
    part === null || diagnostics.length > 0 ? null : asInserted(part, written.entry, supply.holes, refuse);
  return standing === null || diagnostics.length > 0 ? { diagnostics } : { part: standing };
}

function build(
  drawn: Part,
  entry: SwapEntry,
  name: PartCommon,
  fresh: boolean,
  supply: Supply,
  refuse: Refuse,
): Part | null {
  const old = <T>(value: T | undefined): T | undefined => (fresh ? undefined : value);
  const common: PartCommon = { ...name, ...stated({ tolerance: entry.tolerance ?? old(drawn.tolerance) }) };

  switch (drawn.kind) {
    case 'resistor':
      return {
        ...common,
        kind: 'resistor',
        between: drawn.between,
        ohms: figureOf(entry, 'value', 'Ω', refuse) ?? drawn.ohms,
        ...stated({
          rated: figureOf(entry, 'rated', 'W', refuse) ?? old(drawn.rated),
          build: buildOf(entry, resistorBuilds, refuse) ?? old(drawn.build),
          noiseIndex: entry.noise_index ?? old(drawn.noiseIndex),
        }),
      };
    case 'capacitor': {
      const rated = figureOf(entry, 'rated', 'V', refuse) ?? old(drawn.rated);
      return {
        ...common,
        kind: 'capacitor',
        plus: drawn.plus,
        minus: drawn.minus,
        polarised: drawn.polarised,
        farads: figureOf(entry, 'value', 'F', refuse) ?? drawn.farads,
        ...stated({
          rated,
          build: buildOf(entry, capacitorBuilds, refuse) ?? old(drawn.build),
          ...(entry.esr === undefined
            ? { esr: old(drawn.esr), esrAt: old(drawn.esrAt) }
            : { esr: entry.esr.value, esrAt: entry.esr.at }),
          leakage: leakageOf(entry, rated, refuse) ?? old(drawn.leakage),
          loss: entry.loss ?? old(drawn.loss),
          rippleCurrent: entry.ripple_current ?? old(drawn.rippleCurrent),
        }),
      };
    }
    case 'inductor':
      return {
        ...common,
        kind: 'inductor',
        between: drawn.between,
        henries: figureOf(entry, 'value', 'H', refuse) ?? drawn.henries,
        ohms: entry.resistance ?? old(drawn.ohms) ?? 0,
      };
    case 'trimmer':
      return {
        ...common,
        kind: 'trimmer',
        between: drawn.between,
        ohms: figureOf(entry, 'value', 'Ω', refuse) ?? drawn.ohms,
        turn: entry.turn ?? drawn.turn,
        ...stated({ wiper: drawn.wiper, rated: figureOf(entry, 'rated', 'W', refuse) ?? old(drawn.rated) }),
      };
    case 'switch': {
      const at = entry.at ?? drawn.at;
      if (!Object.hasOwn(drawn.positions, at)) {
        refuse(
          'fit-mismatch',
          'at',
          `there is no position ${shown(at)}; write ${Object.keys(drawn.positions).join(', ')}`,
        );
      }
      return { ...common, kind: 'switch', pole: drawn.pole, positions: drawn.positions, at };
    }
    case 'typed':
      return typedPiece(drawn, entry, common, fresh, supply, refuse);
  }
}
