import { cardSuspects, isSmall, type CardFault, type CardSuspect } from './card-faults.ts';
import { faultCard, type FaultCard } from './fault-card.ts';
import type { LessonBench } from './lesson-bench.ts';
import type { LessonId } from './lesson-id.ts';

/** What is wrong on each lesson's card, first choice first. */
const faults: Readonly<Record<LessonId, readonly CardFault[]>> = {
  leg: ['dried', 'open'],
  corner: ['dried', 'open', 'leaky'],
  transistor: ['low hFE'],
  zero: ['open'],
  diodes: ['short'],
  leads: ['turned round'],
  hiss: ['noisy'],
  losses: ['leaky'],
};

/** The card that goes with a lesson on this part: it is wrong itself where that shows, else another with such a fault, else anything. */
export function lessonCard(bench: LessonBench, lesson: LessonId, ref: string | null): FaultCard | null {
  const all = cardSuspects(bench);
  const own = faults[lesson].flatMap((fault): readonly CardSuspect[] => all.filter((each) => each.fault === fault));
  const onPart = own.filter((each) => each.ref === ref);
  // What is open above the band is a small capacitor.
  const small = lesson === 'zero' ? own.filter((each) => isSmall(bench, each.ref)) : [];
  return faultCard(bench, [...onPart, ...small, ...own, ...all]);
}
