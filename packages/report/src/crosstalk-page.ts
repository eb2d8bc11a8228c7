import type { CrosstalkAnswer } from '@curvewright/verify';
import { wrap } from './cells.ts';
import { decimals, isMain, none, quantity } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { tableLines, type Column } from './table.ts';

/** Separation over frequency, a column for each direction. */
export function crosstalkPage(answer: CrosstalkAnswer, options: StagePageOptions): string {
  return stagePage(options, 'separation between the channels', (page) => [
    separationTable(answer, page),
    notes(answer, page),
  ]);
}

function separationTable({ points }: CrosstalkAnswer, options: PageOptions): readonly string[] {
  const directions = [...new Set(points.map(({ from, to }) => `${from} in ${to}`))];
  if (directions.length === 0) return wrap('One channel: there is nothing to leak into.', options.width);
  const columns: readonly Column[] = [
    { align: 'right' },
    ...directions.map((): Column => ({ align: 'point', gap: 4 })),
  ];
  const frequencies = [...new Set(points.map(({ hz }) => hz).filter(isMain))];
  const rows = frequencies.map((hz) => [
    quantity(hz, 'Hz', 3),
    ...points.filter((point) => point.hz === hz).map(({ db }) => (db === null ? none : decimals(db, 1))),
  ]);
  return tableLines(columns, [['dB', ...directions], ...rows], options);
}

function notes({ source, leftOut, points }: CrosstalkAnswer, { width }: PageOptions): readonly string[] {
  const unreached = points.some(({ db }) => db === null)
    ? [`${none}: nothing leads from the one channel to the other.`]
    : [];
  return [
    ...wrap(`One channel is driven, the other terminated alike. Source: ${source}.`, width),
    ...wrap(leftOut, width),
    ...unreached.flatMap((line) => wrap(line, width)),
    ...wrap('Computed from the files; nothing was measured.', width),
  ];
}
