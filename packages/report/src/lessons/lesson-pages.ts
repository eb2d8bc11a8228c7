import {
  cornerLesson,
  diodeLesson,
  hissLesson,
  leadsLesson,
  legLesson,
  lossLesson,
  transistorLesson,
  zeroLesson,
  type LessonBench,
  type LessonId,
} from '@curvewright/verify';
import { cornerLessonPage } from './corner-lesson.ts';
import { diodeLessonPage } from './diode-lesson.ts';
import { hissLessonPage } from './hiss-lesson.ts';
import { leadsLessonPage } from './leads-lesson.ts';
import { legLessonPage } from './leg-lesson.ts';
import type { Lesson, NoLesson } from './lesson.ts';
import { lessonTitles } from './lesson-titles.ts';
import { lossLessonPage } from './loss-lesson.ts';
import { transistorLessonPage } from './transistor-lesson.ts';
import { zeroLessonPage } from './zero-lesson.ts';

const pages: Readonly<Record<LessonId, (bench: LessonBench) => Lesson | null>> = {
  leg: (bench) => page(legLesson(bench), legLessonPage),
  corner: (bench) => page(cornerLesson(bench), cornerLessonPage),
  losses: (bench) => page(lossLesson(bench), lossLessonPage),
  transistor: (bench) => page(transistorLesson(bench), transistorLessonPage),
  leads: (bench) => page(leadsLesson(bench), leadsLessonPage),
  diodes: (bench) => page(diodeLesson(bench), diodeLessonPage),
  hiss: (bench) => page(hissLesson(bench), hissLessonPage),
  zero: (bench) => page(zeroLesson(bench), zeroLessonPage),
};

function page<T>(numbers: T | null, write: (numbers: T) => Lesson | null): Lesson | null {
  return numbers === null ? null : write(numbers);
}

/** What the board lacks for each lesson. */
const lacking: Readonly<Record<LessonId, string>> = {
  leg: 'This board has no capacitor in its feedback leg.',
  corner: 'On this board the music passes through no capacitor.',
  losses: 'On this board no leaking capacitor would move a voltage.',
  transistor: 'This board has no transistor with an hFE.',
  leads: 'This board has no transistor with its own three holes.',
  diodes: 'This board has no diode with a current through it.',
  hiss: 'The file of this board says nothing that makes hiss.',
  zero: 'This board shows no extra zero up to 100 kHz.',
};

/** A lesson on a board, or what the board lacks for it. */
export function lessonPage(bench: LessonBench, id: LessonId): Lesson | NoLesson {
  return pages[id](bench) ?? { id, title: lessonTitles[id], why: lacking[id] };
}
