import type { DiodeLesson, DiodeString } from '@curvewright/verify';
import type { Series } from '../figure/figure.ts';
import { logAxis, plainAxis } from '../figure/scales.ts';
import { decimals, quantity, signed, volts } from '../numbers.ts';
import { lessonPlot, line } from './lesson-figure.ts';
import { lessonTitles } from './lesson-titles.ts';
import type { Lesson } from './lesson.ts';

const milliamps = Array.from({ length: 41 }, (_, n) => 10 ** (-2 + n / 10));

/** Two diodes for one. */
export function diodeLessonPage(lesson: DiodeLesson): Lesson | null {
  const { ref, own, ordinary, strings } = lesson;
  const [one] = strings;
  const best = strings.find(({ count }) => count === lesson.nearest);
  if (one === undefined || best === undefined) return null;
  const law = ({ at1mA, perDecade }: DiodeLesson['own'], count: number): readonly number[] =>
    milliamps.map((mA) => count * (at1mA + perDecade * Math.log10(mA)));
  const many = (count: number): Series =>
    line(named(count), count === 1 ? 'found' : 'rebuilt', milliamps, law(ordinary, count));
  const drawn = line(`${ref} as drawn`, 'drawn', milliamps, law(own, 1));
  const figure = lessonPlot({
    title: 'Volts across the diode for its current',
    x: logAxis(0.01, 100, 'mA'),
    y: plainAxis(0, 2, 'V'),
    series: [drawn],
    words: `${ref} has ${volts(lesson.volts)} V at ${quantity(lesson.amps, 'A', 2)}.`,
  });
  return {
    ...{ id: 'diodes', title: lessonTitles.diodes, ref, figure },
    intro: [
      `${ref} is here for its voltage. ${quantity(lesson.amps, 'A', 2)} flow through it. Then ${volts(lesson.volts)} V stand across it.`,
      'Say that its type is no longer made. An ordinary silicon diode lies in every drawer.',
    ],
    question: 'One ordinary diode goes in its place. How many volts stand across it? Put your mark there.',
    mark: {
      ...{ kind: 'level', label: 'Volts across one ordinary diode', x: 1000 * lesson.amps, unit: 'V' },
      ...{ from: 0, to: 2, step: 0.05, start: 1.5, answer: one.volts, close: 0.1 },
    },
    revealed: {
      ...figure,
      series: best.count === 1 ? [drawn, many(1)] : [drawn, many(1), many(best.count)],
      words: `One ordinary diode has ${volts(one.volts)} V.`,
    },
    told: [
      `One has ${volts(one.volts)} V across it.${best.count === 1 ? '' : ' The old one does the work of more than one junction.'}`,
      `With one, node ${one.node} moves by ${signed(one.moveV, 1)} V. The gain moves by ${signed(one.gainDb, 2)} dB.`,
      ...(best.count === 1 ? [] : [inSeries(best)]),
      `The volts grow with ten times the current: ${decimals(1000 * lesson.ordinary.perDecade, 0)} mV for an ordinary one, ${decimals(1000 * own.perDecade, 0)} mV for the old one.`,
      ...(best.count === 1
        ? []
        : ['In series the band of each diode points the same way. A sleeve goes over the joint.']),
    ],
    walk: null,
  };
}

function named(count: number): string {
  return count === 1 ? 'one ordinary diode' : count === 2 ? 'two in series' : `${count} in series`;
}

function inSeries({ count, volts: across, node, moveV }: DiodeString): string {
  const many = count === 2 ? 'Two' : String(count);
  return `${many} in series have ${volts(across)} V. Then node ${node} moves by ${signed(moveV, 1)} V only.`;
}
