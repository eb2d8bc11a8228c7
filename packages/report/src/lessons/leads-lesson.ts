import type { LeadsLesson } from '@curvewright/verify';
import { quantity, signed } from '../numbers.ts';
import { turnPicture } from './turn-picture.ts';
import { lessonTitles } from './lesson-titles.ts';
import type { Lesson } from './lesson.ts';

const ways = ['A: as the print shows', 'B: turned, its flat to the back', 'neither: two leads have to cross'] as const;
const indexes = { 'as is': 0, turned: 1, crossed: 2 } as const;

/** Which way round the leads go. */
export function leadsLessonPage(lesson: LeadsLesson): Lesson {
  const { ref, holes, front, fit, wrong } = lesson;
  const turned = spaced([...front].reverse().join(''));
  return {
    ...{ id: 'leads', title: lessonTitles.leads, ref },
    intro: [
      `${ref} stands in three holes. From the left they are for ${spaced(holes)}, the printed flat towards you.`,
      `A new type comes in the same case. Seen from the front its leads are ${spaced(front)}. The front is the side with the flat.`,
    ],
    question: 'How does the new one go in? Put your mark on A, on B or on neither.',
    figure: turnPicture(lesson, false),
    mark: { kind: 'choice', label: 'The new one goes in', options: ways, answer: indexes[fit.how] },
    revealed: turnPicture(lesson, true),
    told: [
      `Turned round, its leads from the left are ${turned}. ${fit.how === 'turned' ? 'That is what the holes ask for.' : 'That is not what the holes ask for.'}`,
      ...(wrong === null
        ? []
        : [
            `As the print shows, ${wrong.inHoles.charAt(0)} would stand in the hole for ${holes.charAt(0)}. Node ${wrong.node} would then move by ${quantity(wrong.nodeMv / 1000, 'V', 2)}.`,
            `The gain would move by ${signed(wrong.gainDb, 0)} dB.`,
          ]),
      'A case looks the same whatever is inside. Read the data sheet, and mind from which side it looks.',
      'A diode test tells the leads apart before you solder.',
    ],
    walk: null,
  };
}

function spaced(letters: string): string {
  return [...letters].join(' ');
}
