import { lessonHz, type CornerLesson, type CornerValue } from '@curvewright/verify';
import type { Series } from '../figure/figure.ts';
import { quantity, signed } from '../numbers.ts';
import { deviationPlot, line } from './lesson-figure.ts';
import { lessonTitles } from './lesson-titles.ts';
import type { Lesson } from './lesson.ts';

/** dB between the textbook and the board that are no more than a reading. */
const alike = 0.5;

/** Why a coupling capacitor's corner formula can mislead. */
export function cornerLessonPage(lesson: CornerLesson): Lesson | null {
  const { ref, values } = lesson;
  const [drawn, asked] = [values[lesson.drawn], values[lesson.asked]];
  if (drawn === undefined || asked === undefined) return null;
  const title = 'Level at every frequency, off the RIAA curve';
  const textbook = (value: CornerValue): Series =>
    line(`${farads(value)}, textbook`, 'target', lessonHz, value.textbookDb);
  const board = (value: CornerValue): Series =>
    line(`${farads(value)}, this board`, 'found', lessonHz, value.deviationDb);
  const figure = deviationPlot(
    title,
    [textbook(asked)],
    [asked.boardAt10Db, asked.textbookAt10Db],
    `The textbook says ${at10(asked.textbookAt10Db)} at 10 Hz.`,
  );
  const difference = asked.boardAt10Db - asked.textbookAt10Db;
  return {
    ...{ id: 'corner', title: lessonTitles.corner, ref, figure },
    intro: [
      `The music passes through ${ref}. A coupling capacitor lets less through in the low bass. The textbook gives its corner as 1/(2π·R·C).`,
      `R comes from the resistors around it: ${quantity(lesson.textbookOhms, 'Ω', 2)} here. With ${farads(drawn)} the corner is ${quantity(drawn.textbookHz, 'Hz', 2)}.`,
    ],
    question: `Now ${ref} is ${farads(asked)}. The line of dots is what the textbook says. Where does this board stand at 10 Hz?`,
    mark: {
      ...{ kind: 'level', label: 'Level at 10 Hz', x: 10, unit: 'dB', step: 0.5, close: 1 },
      ...{ from: figure.y.from, to: figure.y.to, start: 0, answer: asked.boardAt10Db },
    },
    revealed: {
      ...figure,
      series: [textbook(asked), board(asked)],
      words: `The board stands at ${at10(asked.boardAt10Db)} at 10 Hz, the textbook at ${at10(asked.textbookAt10Db)}.`,
    },
    told: [
      `The textbook says ${at10(asked.textbookAt10Db)} at 10 Hz. This board stands at ${at10(asked.boardAt10Db)}.`,
      Math.abs(difference) < alike
        ? `Here the formula is right to ${Math.abs(difference).toFixed(1)} dB. Little else on this board comes into it.`
        : `It is ${Math.abs(difference).toFixed(1)} dB off. The formula leaves out the transistors, the valves and the feedback. On this board they count.`,
      ...(asked.boardAt10Db > alike
        ? ['A smaller capacitor even lifts the low bass here. It swings together with other capacitors of this board.']
        : []),
      'Take the formula for a first guess. Look at the computed line before you solder.',
    ],
    walk: {
      label: ref,
      figure: deviationPlot(
        title,
        [],
        values.flatMap(({ boardAt10Db, textbookAt10Db }) => [boardAt10Db, textbookAt10Db]),
        `${ref}: ${values.map(farads).join(', ')}.`,
      ),
      names: ['corner by the textbook', 'textbook at 10 Hz', 'board at 10 Hz'],
      start: lesson.drawn,
      steps: values.map((value) => ({
        written: farads(value),
        series: [textbook(value), { ...board(value), look: 'rebuilt' }],
        numbers: [quantity(value.textbookHz, 'Hz', 2), at10(value.textbookAt10Db), at10(value.boardAt10Db)],
      })),
    },
  };
}

function farads({ farads: value }: CornerValue): string {
  return quantity(value, 'F', 2);
}

function at10(value: number): string {
  return `${signed(value, 1)} dB`;
}
