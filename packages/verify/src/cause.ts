import {
  askFor,
  nameOf,
  nextStep,
  partsOf,
  remedySentences,
  sentenceOn,
  tellingSwaps,
  isSeen,
  type CauseContext,
} from './cause-search.ts';
import { cornerSentence, leadingSentence, swapSentence } from './cause-words.ts';
import type { Figure } from './figure.ts';
import { effectsOfCouplings, effectsOfParts, partsActingOn } from './influence-on-figure.ts';
import { bestRemedy } from './remedy.ts';

/** Why a figure stands where it stands, found by solving the stage again with one thing changed at a time. */
export interface Cause {
  readonly ref: string;
  readonly cause: string;
  readonly next: string;
}

/** Parts asked for another value. */
const asked = 6;

export function causeOf(figure: Figure, context: CauseContext): Cause {
  const couplings = effectsOfCouplings(figure, context.probe, context.variants);
  const seen = couplings.filter(({ moves }) => isSeen(figure, moves));
  const ranked = seen.length > 0 ? seen : effectsOfParts(figure, context.probe, context.variants);
  const swaps = tellingSwaps(figure, context);
  const remedies = askFor(figure, context, [partsOf(context, [...swaps, ...ranked], asked)], bestRemedy);
  const leading = ranked.find(({ ref }) => ref === remedies.found?.part.ref) ?? ranked[0];
  const part = leading && (swaps.length === 0 || remedies.found?.part.ref === leading.ref) ? leading : null;
  const fallback = partsActingOn(figure, context.probe)[0]?.ref ?? '';
  const ref = swaps[0]?.ref ?? nameOf(context, leading?.ref ?? fallback);
  return {
    ref,
    cause:
      [
        ...swaps.map((swap) => swapSentence(figure, context, swap)),
        ...(part
          ? sentenceOn(
              context,
              part,
              (its) => cornerSentence(figure, context, its) ?? leadingSentence(figure, its, part),
            )
          : []),
        ...remedySentences(figure, remedies.found),
      ].join('; ') || 'no part of this channel moves it',
    next: nextStep(
      figure,
      context,
      ref,
      remedies,
      `${figure.hz === null ? 'measure the voltages at' : 'measure'} ${ref} and its neighbours`,
    ),
  };
}
