import type { Cause } from './cause.ts';
import {
  askFor,
  nameOf,
  named,
  nextStep,
  partsOf,
  remedySentences,
  sentenceOn,
  tellingSwaps,
  type CauseContext,
} from './cause-search.ts';
import { doubledSentence, swapSentence, undoneSentence } from './cause-words.ts';
import type { Figure, Probe } from './figure.ts';
import { effectsOfParts, partsActingOn } from './influence-on-figure.ts';
import { isWorse, levelOf, marginTo } from './judge.ts';
import { bestRemedy, firstDearRemedy } from './remedy.ts';
import type { ToldFigure } from './told-figure.ts';

/** Parts of each kind, or of a dear figure, asked for another value. */
const asked = 4;

/** The cause of what an answer tells: ranked by solving too, or as the answer ranks it where the figure is dear. */
export function toldCauseOf(figure: ToldFigure, context: CauseContext): Cause {
  return figure.dear ? dearCauseOf(figure, context) : sharedCauseOf(figure, context);
}

/** Hum and crosstalk: of two parts that serve, a capacitor is changed before a resistor that sets a bias. */
function sharedCauseOf(figure: ToldFigure, context: CauseContext): Cause {
  const ranked = effectsOfParts(figure, context.probe, context.variants);
  const swaps = tellingSwaps(figure, context);
  const parts = partsOf(context, [...swaps, ...ranked], Infinity);
  const capacitors = parts.filter(({ kind }) => kind === 'capacitor').slice(0, asked);
  const others = parts.filter(({ kind }) => kind !== 'capacitor').slice(0, asked);
  const remedies = askFor(figure, context, [capacitors, others], bestRemedy);
  const leading = ranked[0];
  const decouplers = parts.filter(({ kind, channel }) => kind === 'capacitor' && channel === null);
  const decoupler = ranked.find(({ ref }) => decouplers.some((part) => part.ref === ref));
  const telling = [...new Set([leading, decoupler])].flatMap((effect) => effect ?? []);
  const ref = swaps[0]?.ref ?? nameOf(context, leading?.ref ?? gainMover(figure, context));
  return {
    ref,
    cause: [
      figure.cause,
      ...swaps.map((swap) => swapSentence(figure, context, swap)),
      ...telling.flatMap((effect) =>
        sentenceOn(context, effect, (its) =>
          doubledSentence(figure, context, its, effect, effect === leading ? '' : ' of the decouplers'),
        ),
      ),
      ...remedySentences(figure, remedies.found),
    ].join('; '),
    next: nextStep(figure, context, ref, remedies, figure.otherwise),
  };
}

function dearCauseOf(figure: ToldFigure, context: CauseContext): Cause {
  const swaps = figure.triesSwaps && levelOf(figure) !== 'good' ? swapsUndone(figure, context) : [];
  const names = [...swaps, ...figure.asked.map((ref) => ({ ref }))];
  const remedies = askFor(figure, context, [partsOf(context, names, asked)], firstDearRemedy);
  const ref = swaps[0]?.ref ?? figure.named[0] ?? nameOf(context, gainMover(figure, context));
  return {
    ref,
    cause: [
      figure.cause,
      ...swaps.map((swap) => undoneSentence(figure, context, swap)),
      ...remedySentences(figure, remedies.found),
    ].join('; '),
    next: nextStep(figure, context, ref, remedies, figure.otherwise),
  };
}

/** The swaps without which the figure would be of a better level, best first. */
function swapsUndone(
  figure: Figure,
  { probe, changes, variants }: CauseContext,
): readonly { ref: string; leaves: number }[] {
  const acting = new Set(partsActingOn(figure, probe).map(({ position }) => position));
  const undone = changes.flatMap(({ position }) => {
    const restored = acting.has(position) ? variants.restored(position) : null;
    return restored === null ? [] : [{ ref: position, leaves: figure.search(restored) }];
  });
  return undone
    .filter(({ leaves }) => isWorse(levelOf(figure), levelOf(figure, leaves)))
    .toSorted((a, b) => marginTo(figure, figure.good, b.leaves) - marginTo(figure, figure.good, a.leaves))
    .slice(0, named);
}

/** What moves the gain moves what is referred to the input: for a figure whose answer names no part. */
function gainMover(figure: Figure, context: CauseContext): string {
  const { probe, variants } = context;
  const channel = figure.channel ?? 0;
  const read = ({ reader }: Probe): number => reader.gainDb(channel, 1000);
  const gain: Figure = { ...figure, channel, value: read(probe), search: read, follow: read };
  return (effectsOfParts(gain, probe, variants)[0] ?? partsActingOn(gain, probe)[0])?.ref ?? '';
}
