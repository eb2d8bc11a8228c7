import type { HissLesson, HissMaker } from '@curvewright/verify';
import type { BarFigure } from '../figure/figure.ts';
import { plainAxis } from '../figure/scales.ts';
import { decimals } from '../numbers.ts';
import type { Lesson } from './lesson.ts';
import { lessonTitles } from './lesson-titles.ts';

/** Where the hiss comes from. */
export function hissLessonPage(lesson: HissLesson): Lesson {
  // In the order of the board, so that the order tells nothing.
  const byName = lesson.makers.toSorted((a, b) => a.ref.localeCompare(b.ref, 'en', { numeric: true }));
  const [first] = lesson.makers;
  const last = lesson.makers.at(-1);
  const bars = (written: (maker: HissMaker) => readonly [number, string], words: string): BarFigure => ({
    ...{ kind: 'bars', id: 'lesson', title: 'Share of the hiss', look: 'rebuilt', words },
    axis: plainAxis(0, 100, '%'),
    names: [`${decimals(lesson.inputUv, 2)} µV`],
    rows: byName.map((maker) => {
      const [value, text] = written(maker);
      return { label: maker.ref, values: [value], texts: [text] };
    }),
  });
  const percent = (share: number): string => `${decimals(100 * share, share < 0.0995 ? 1 : 0)} %`;
  const shares = byName.map(({ ref, share }) => `${ref} ${percent(share)}`).join(', ');
  return {
    ...{ id: 'hiss', title: lessonTitles.hiss, ref: null },
    intro: [
      `With the input shorted this stage still hisses: ${decimals(lesson.inputUv, 2)} µV at its input, as the ear weighs it.`,
      'Every resistor makes some noise, because it is warm. Every transistor and valve makes some, because current comes in grains.',
    ],
    question: 'One of these parts makes the most hiss. Which one? Put your mark on its bar.',
    figure: bars(() => [0, '?'], 'Five parts, their shares not told yet.'),
    mark: {
      ...{ kind: 'choice', label: 'Most hiss' },
      options: byName.map(({ ref }) => ref),
      answer: byName.findIndex(({ ref }) => ref === first?.ref),
    },
    revealed: bars(({ share }) => [100 * share, percent(share)], `${shares}.`),
    told: [
      ...(first === undefined ? [] : [`${first.ref} makes ${percent(first.share)} of it. ${whyFirst(first)}`]),
      'Whatever hisses at the input is amplified by the whole stage. What hisses later is amplified less.',
      `A silent ${first?.ref ?? ''} would bring ${gained(lesson.withoutFirstDb)}. A silent ${last?.ref ?? ''} would bring ${gained(lesson.withoutLastDb)}.`,
      'So change what makes the most, or change nothing.',
    ],
    walk: null,
  };
}

function whyFirst({ kind }: HissMaker): string {
  return kind === 'resistor'
    ? 'It stands in the path of the smallest signal. Its warmth adds to it there.'
    : 'It is the first to amplify, and the signal is smallest there.';
}

function gained(db: number): string {
  return `${decimals(Math.abs(db), 1)} dB`;
}
