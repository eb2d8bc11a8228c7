import { lessonHz, little, type LegLesson, type LegValue } from '@curvewright/verify';
import { quantity, signed } from '../numbers.ts';
import { deviationPlot, line } from './lesson-figure.ts';
import { lessonTitles } from './lesson-titles.ts';
import type { Lesson, Walk } from './lesson.ts';

/** One capacitor, two jobs. */
export function legLessonPage(lesson: LegLesson): Lesson | null {
  const { ref, values } = lesson;
  const [drawn, asked] = [values[lesson.drawn], values[lesson.asked]];
  if (drawn === undefined || asked === undefined) return null;
  const title = 'Level at every frequency, off the RIAA curve';
  const own = line(`${farads(drawn)} as drawn`, 'drawn', lessonHz, drawn.deviationDb);
  const other = line(`${farads(asked)}`, 'found', lessonHz, asked.deviationDb);
  const figure = deviationPlot(title, [own], [asked.at20HzDb], `As drawn ${at20(drawn)} at 20 Hz.`);
  return {
    ...{ id: 'leg', title: lessonTitles.leg, ref, figure },
    intro: [
      `${ref} stands in the feedback leg. To music it is nearly a wire. To DC it is a gap.`,
      `The line shows the board as drawn, with ${farads(drawn)}. A line at 0 dB would be the RIAA curve itself.`,
    ],
    question: `Now ${ref} has dried out to ${farads(asked)}. Where does the line stand at 20 Hz? Put your mark there.`,
    mark: {
      ...{ kind: 'level', label: 'Level at 20 Hz', x: 20, unit: 'dB', step: 0.5, close: 1.5 },
      ...{ from: figure.y.from, to: figure.y.to, start: 0, answer: asked.at20HzDb },
    },
    revealed: { ...figure, series: [own, other], words: `With ${farads(asked)} ${at20(asked)} at 20 Hz.` },
    told: [
      `With ${farads(asked)} the level at 20 Hz is ${at20(asked)}. As drawn it is ${at20(drawn)}.`,
      'Job one is the bass. In the bass a small capacitor is no wire any more. Then the feedback grows, and the gain falls.',
      ...(drawn.cornerHz !== null && asked.cornerHz !== null
        ? [`The corner moved from ${hz(drawn)} to ${hz(asked)}. Corner and bass move together.`]
        : []),
      `Job two is to keep DC out of the leg. At 20 Hz this stage amplifies ${times(lesson.gain20Hz)}. A slow drift it amplifies ${times(lesson.dcGain)} only. With a wire in place of ${ref} it would be ${times(lesson.dcGainShorted)}.`,
      ...moreIsSlower(lesson),
    ],
    walk: walkOf(lesson, title),
  };
}

function moreIsSlower({ values, enough }: LegLesson): readonly string[] {
  const [first, last] = [values[enough], values.at(-1)];
  if (first === undefined || last === undefined || first === last) return [];
  const more = `From ${farads(first)} on, more brings less than ${little} dB at 20 Hz.`;
  if (first.slowestS === null || last.slowestS === null) return [more];
  const slower = last.slowestS > 1.1 * first.slowestS;
  return [
    slower
      ? `${more} It only makes the switch-on slower. The slowest time constant grows from ${seconds(first)} to ${seconds(last)}.`
      : `${more} On this board it does not even change the switch-on. Something else there is slower: ${seconds(last)}.`,
  ];
}

function walkOf({ ref, values, drawn }: LegLesson, title: string): Walk {
  const start = values[drawn];
  const all = values.map(({ at20HzDb }) => at20HzDb);
  const fixed = start === undefined ? [] : [line('as drawn', 'drawn', lessonHz, start.deviationDb)];
  return {
    label: ref,
    figure: deviationPlot(title, fixed, all, `${ref} from ${values.map(farads).join(', ')}.`),
    names: ['corner', 'level at 20 Hz', 'gain at 1 kHz', 'slowest time constant'],
    start: drawn,
    steps: values.map((value) => ({
      written: farads(value),
      series: [line(farads(value), 'rebuilt', lessonHz, value.deviationDb)],
      numbers: [
        value.cornerHz === null ? 'below 0.05 Hz' : hz(value),
        at20(value),
        `${signed(value.gainDb, 1)} dB`,
        value.slowestS === null ? '–' : seconds(value),
      ],
    })),
  };
}

function farads({ farads: value }: Pick<LegValue, 'farads'>): string {
  return quantity(value, 'F', 2);
}

function hz({ cornerHz }: LegValue): string {
  return quantity(cornerHz ?? NaN, 'Hz', 2);
}

function seconds({ slowestS }: LegValue): string {
  return quantity(slowestS ?? NaN, 's', 2);
}

function at20({ at20HzDb }: LegValue): string {
  return `${signed(at20HzDb, 1)} dB`;
}

function times(gain: number): string {
  return gain < 9.95 ? `${gain.toFixed(1)} times` : `${Number(gain.toPrecision(2))} times`;
}
