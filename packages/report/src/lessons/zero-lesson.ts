import { lessonHz, type ZeroLesson } from '@curvewright/verify';
import { dbAxis, hzAxis } from '../figure/scales.ts';
import { decimals, quantity, signed } from '../numbers.ts';
import { lessonPlot, line } from './lesson-figure.ts';
import { lessonTitles } from './lesson-titles.ts';
import type { Lesson } from './lesson.ts';

const [lowHz, highHz] = [1000, 100_000];

/** The extra zero of a stage that cannot amplify less than once. */
export function zeroLessonPage(lesson: ZeroLesson): Lesson {
  const { ref } = lesson;
  const bare = line(ref === null ? 'this board' : `without ${ref}`, 'found', lessonHz, lesson.bareDb);
  const own = line('as drawn', 'drawn', lessonHz, lesson.drawnDb);
  const figure = lessonPlot({
    title: 'Level above 1 kHz, off the RIAA curve',
    x: hzAxis(lowHz, highHz),
    y: dbAxis(Math.min(-6, lesson.bareAt100kDb - 2), Math.max(6, lesson.bareAt100kDb + 2)),
    series: [line('RIAA curve', 'target', [lowHz, highHz], [0, 0])],
    words: 'The RIAA curve is the line at 0 dB.',
  });
  return {
    ...{ id: 'zero', title: lessonTitles.zero, ref, figure },
    intro: [
      'The RIAA curve falls for ever: ten times the frequency, a tenth of the gain. But this stage hands its input to its output at least once.',
      `At 1 kHz the gain is ${decimals(lesson.gainDb, 1)} dB. The curve asks for a gain of one at ${quantity(lesson.unityHz, 'Hz', 2)}.`,
      ...(ref === null ? [] : [`${ref} is taken out for this question.`]),
    ],
    question: 'Where does the stage stand at 100 kHz, off the RIAA curve? Put your mark there.',
    mark: {
      ...{ kind: 'level', label: 'Level at 100 kHz', x: highHz, unit: 'dB', step: 0.5, close: 0.75 },
      ...{ from: figure.y.from, to: figure.y.to, start: 0, answer: lesson.bareAt100kDb },
    },
    revealed: {
      ...figure,
      series: [...figure.series, ...(ref === null ? [bare] : [own, bare])],
      words: `At 100 kHz it stands at ${level(lesson.bareAt100kDb)}.`,
    },
    told: [
      `It stands at ${level(lesson.bareAt100kDb)}. A gain that stops falling at one would stand at ${level(lesson.textbookDb)}.`,
      'The gain stops falling, the curve goes on. In the sums of a filter that bend is called a zero.',
      ref === null
        ? `This board leaves it so. At 20 kHz it stands at ${level(lesson.drawnAt20kDb)}, and nobody hears more.`
        : `${ref} takes it back. As drawn the board stands at ${level(lesson.drawnAt100kDb)} at 100 kHz.`,
      'Clicks and radio live up there. That is why it counts although nobody hears it.',
    ],
    walk: null,
  };
}

function level(db: number): string {
  return `${signed(db, 1)} dB`;
}
