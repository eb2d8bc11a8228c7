import type { LossLesson, LossPoint } from '@curvewright/verify';
import type { Series } from '../figure/figure.ts';
import { logAxis, plainAxis } from '../figure/scales.ts';
import { change, quantity, signed, volts } from '../numbers.ts';
import { lessonPlot, line } from './lesson-figure.ts';
import { lessonTitles } from './lesson-titles.ts';
import type { Lesson } from './lesson.ts';

/** dB that nobody hears. */
const unheard = 0.5;

/** Leakage against ESR. */
export function lossLessonPage(lesson: LossLesson): Lesson {
  const { ref, node, drawnV, esr, leakage, asked } = lesson;
  const ohms = quantity(asked.ohms, 'Ω', 2);
  const worst = esr.at(-1);
  const all = [drawnV, ...esr, ...leakage].map((point) => (typeof point === 'number' ? point : point.volts));
  const [low, high] = [Math.min(0, ...all), Math.max(...all)];
  const figure = lessonPlot({
    title: `Volts at node ${node}`,
    x: logAxis(1, 10e6, 'Ω'),
    y: plainAxis(low, Math.max(1.15 * high, drawnV * 1.5), 'V'),
    series: [line('as drawn', 'drawn', [1, 10e6], [drawnV, drawnV])],
    words: `As drawn ${node} reads ${volts(drawnV)} V.`,
  });
  const over = (label: string, look: Series['look'], points: readonly LossPoint[]): Series =>
    line(
      label,
      look,
      points.map((point) => point.ohms),
      points.map((point) => point.volts),
    );
  return {
    ...{ id: 'losses', title: lessonTitles.losses, ref, figure },
    intro: [
      'A tired capacitor can go wrong in two ways. Its ESR grows: a resistor in series. Or it leaks: a resistor across it.',
      `${ref} is ${quantity(lesson.farads, 'F', 2)}. As drawn, node ${node} reads ${volts(drawnV)} V.`,
    ],
    question: `Now ${ref} leaks: ${ohms} lies across it. What does node ${node} read? Put your mark there.`,
    mark: {
      ...{ kind: 'level', label: `Volts at node ${node}`, x: asked.ohms, unit: 'V' },
      ...{ from: figure.y.from, to: figure.y.to, step: roundStep((figure.y.to - figure.y.from) / 60), start: drawnV },
      ...{ answer: asked.volts, close: 0.15 * Math.max(Math.abs(drawnV - asked.volts), 0.1 * Math.abs(drawnV)) },
    },
    revealed: {
      ...figure,
      series: [...figure.series, over('ESR', 'found', esr), over('leakage', 'rebuilt', leakage)],
      words: `With ${ohms} of leakage ${node} reads ${volts(asked.volts)} V. With ESR it stays.`,
    },
    told: [
      `With ${ohms} of leakage node ${node} reads ${volts(asked.volts)} V. As drawn it was ${volts(drawnV)} V.`,
      Math.max(Math.abs(asked.gainDb), Math.abs(asked.at20HzDb)) < unheard
        ? `The sound hardly tells. The gain moves by ${moved(asked.gainDb)}, the level at 20 Hz by ${moved(asked.at20HzDb)}.`
        : `The sound tells too. The gain moves by ${moved(asked.gainDb)}, the level at 20 Hz by ${moved(asked.at20HzDb)}.`,
      ...(worst === undefined
        ? []
        : [
            `Now the ESR. With ${quantity(worst.ohms, 'Ω', 2)} in series the node ${movedVolts(worst.volts - drawnV)}. The gain moves by ${moved(worst.gainDb)}.`,
          ]),
      'Leakage lets DC through. So it shows on the voltmeter. ESR stops no DC. So it needs an ESR meter.',
    ],
    walk: null,
  };
}

/** Nothing that a meter shows is no move. */
function movedVolts(volts: number): string {
  return Math.abs(volts) < 1e-3 ? 'does not move' : `moves by ${change(volts, 'V')}`;
}

function moved(db: number): string {
  return `${signed(db, 2)} dB`;
}

/** 1, 2 or 5 times a power of ten, at or above. */
function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  return [1, 2, 5, 10].map((digit) => digit * power).find((step) => step >= least * (1 - 1e-9)) ?? least;
}
