import { diodeLesson } from './diode-string.ts';
import { zeroLesson } from './extra-zero.ts';
import { hissLesson } from './hiss-makers.ts';
import { lossLesson } from './leakage-and-esr.ts';
import { taughtParts, type LessonBench } from './lesson-bench.ts';
import { lessonIds, type LessonId } from './lesson-id.ts';
import { couplingCapacitors, legCapacitor } from './roles.ts';
import { isBipolar } from './transistor-gain.ts';
import { leadsLesson } from './turned-leads.ts';

const askers: Readonly<Record<LessonId, (bench: LessonBench) => boolean>> = {
  leg: (bench) => legCapacitor(bench) !== null,
  corner: (bench) => couplingCapacitors(bench).length > 0,
  losses: (bench) => lossLesson(bench) !== null,
  transistor: (bench) => taughtParts(bench).some(isBipolar),
  leads: (bench) => leadsLesson(bench) !== null,
  diodes: (bench) => diodeLesson(bench) !== null,
  hiss: (bench) => hissLesson(bench) !== null,
  zero: (bench) => zeroLesson(bench) !== null,
};

/** The lessons that a board has the parts for. */
export function offeredLessons(bench: LessonBench): readonly LessonId[] {
  return lessonIds.filter((id) => askers[id](bench));
}
