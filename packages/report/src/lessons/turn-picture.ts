import type { LeadsLesson } from '@curvewright/verify';
import { inkReader } from '../figure/plate.ts';
import { element, escaped } from '../figure/svg-text.ts';
import { caseOutline } from '../lead-drawing.ts';
import type { Picture } from './lesson.ts';

/** Pixels. */
const [block, gap, step, height] = [168, 24, 44, 176];
const rows = { title: 18, letters: 104, leads: 112, holes: 140, print: 160 };

/** The print and the new part both ways round, from the component side; with its letters once they are told. */
export function turnPicture({ ref, holes, front, fit }: LeadsLesson, told: boolean): Picture {
  const ink = inkReader('page');
  const back = [...front].reverse().join('');
  const width = 3 * block + 2 * gap;
  const write = (x: number, y: number, content: string): string =>
    element('text', { x, y, fill: ink('text'), 'text-anchor': 'middle' }, escaped(content));
  const shown = (
    n: number,
    name: string,
    flat: 'front' | 'back',
    letters: string,
    isRight: boolean,
  ): readonly string[] => {
    const middle = n * (block + gap) + block / 2;
    const at = (k: number): number => middle + (k - 1) * step;
    return [
      write(middle, rows.title, name),
      element('path', { d: caseOutline(middle, flat), stroke: ink('text'), 'stroke-width': isRight ? 3 : 1.5 }),
      write(middle, flat === 'front' ? 80 : 45, 'flat'),
      ...[...letters].flatMap((letter, k) => [
        write(at(k), rows.letters, letter),
        element('path', {
          d: `M${at(k)} ${rows.leads}L${at(k)} ${rows.holes}`,
          stroke: ink('text'),
          'stroke-width': 1.5,
        }),
        write(at(k), rows.print, holes.charAt(k)),
      ]),
    ];
  };
  const letters = (order: string): string => (told ? order : '???');
  const title = `The holes of ${ref}, and the new part both ways round`;
  const words = told
    ? `The holes are for ${holes}. A has ${front} over them, B has ${back}.`
    : `The holes are for ${holes} from the left. A has its flat in front, B at the back.`;
  return {
    kind: 'picture',
    title,
    svg: element(
      'svg',
      {
        ...{ xmlns: 'http://www.w3.org/2000/svg', class: 'figure figure-leads', role: 'img', fill: 'none' },
        ...{ viewBox: `0 0 ${width} ${height}`, width, height, 'font-size': 12.5 },
      },
      [
        element('title', {}, escaped(title)),
        element('desc', {}, escaped(words)),
        ...shown(0, `holes of ${ref}`, 'front', holes, false),
        ...shown(1, 'A', 'front', letters(front), told && fit.how === 'as is'),
        ...shown(2, 'B', 'back', letters(back), told && fit.how === 'turned'),
      ].join('\n'),
    ),
  };
}
