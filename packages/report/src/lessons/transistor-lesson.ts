import { lessonHz, type TransistorLesson } from '@curvewright/verify';
import { hzAxis, plainAxis } from '../figure/scales.ts';
import { decimals, signed, volts } from '../numbers.ts';
import { lessonPlot, line } from './lesson-figure.ts';
import { lessonTitles } from './lesson-titles.ts';
import type { Lesson } from './lesson.ts';

/** What a transistor's gain moves and what it does not. */
export function transistorLessonPage(lesson: TransistorLesson): Lesson {
  const { ref, typeName, hFE, node } = lesson;
  const half = Math.round(hFE / 2);
  const change = lesson.halvedAt1kHzDb - lesson.at1kHzDb;
  const own = line('as drawn', 'drawn', lessonHz, lesson.gainDb);
  const figure = lessonPlot({
    title: 'Gain at every frequency',
    x: hzAxis(),
    y: plainAxis(0, 70, 'dB'),
    series: [own],
    words: `As drawn ${decimals(lesson.at1kHzDb, 1)} dB at 1 kHz.`,
  });
  return {
    ...{ id: 'transistor', title: lessonTitles.transistor, ref, figure },
    intro: [
      `${ref} is of the type ${typeName}. Its hFE is about ${hFE}. Two pieces from one bag can differ by a factor of two.`,
      `The line shows the gain of the whole stage. At 1 kHz it is ${decimals(lesson.at1kHzDb, 1)} dB.`,
    ],
    question: `A piece with an hFE of only ${half} goes in. What is the gain of the stage at 1 kHz? Put your mark there.`,
    mark: {
      ...{ kind: 'level', label: 'Gain at 1 kHz', x: 1000, unit: 'dB', step: 0.5, close: 0.5 },
      ...{ from: 0, to: figure.y.to, start: Math.round(lesson.at1kHzDb / 2), answer: lesson.halvedAt1kHzDb },
    },
    revealed: {
      ...figure,
      series: [own, line(`hFE ${half}`, 'found', lessonHz, lesson.halvedGainDb)],
      words: `With half the hFE ${decimals(lesson.halvedAt1kHzDb, 1)} dB at 1 kHz.`,
    },
    told: [
      `The gain moves by ${signed(change, 2)} dB only. At 20 Hz the curve moves by ${signed(lesson.at20HzMoveDb, 2)} dB.`,
      'Feedback sets the gain of this stage. Resistors and capacitors set the feedback. The transistor only has to be strong enough.',
      `What moves is the bias. Node ${node} goes from ${volts(lesson.nodeV)} V to ${volts(lesson.nodeV + lesson.nodeMoveV)} V.`,
      'The base needs twice the current now. That current comes through a resistor, and the resistor drops more volts.',
      `The hiss goes from ${decimals(lesson.hissUv, 3)} µV to ${decimals(lesson.halvedHissUv, 3)} µV.`,
      'So a new type may have another hFE. Check the voltages after fitting it.',
    ],
    walk: null,
  };
}
