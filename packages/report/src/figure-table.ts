import type { CheckAnswer, Level } from '@curvewright/verify';
import { figureRows, type FigureRow } from './figure-rows.ts';
import { inkOf, markOf } from './ink.ts';
import type { PageOptions } from './page-options.ts';
import { channelLetter, statesShown } from './states-shown.ts';
import { tableLines, type Cell, type Column } from './table.ts';

/** What the stage does, a line a figure, the channels of each state side by side. */
export function figureTableAcross(answer: CheckAnswer, options: PageOptions): readonly string[] {
  const { channels } = answer;
  const shown = statesShown(answer);
  const columns: readonly Column[] = [
    { align: 'left' },
    ...shown.flatMap(() => channels.map((_, c): Column => ({ align: 'right', gap: c === 0 ? 3 : 1 }))),
    { align: 'left', gap: 1 },
    ...channels.map((): Column => ({ align: 'left', gap: 1 })),
  ];
  const several = channels.length > 1;
  const lines = figureRows(channels, answer.states.drawn).map((row): readonly Cell[] => [
    row.label,
    ...shown.flatMap(([, state]) => channels.map((_, c) => row.read(state, c))),
    row.unit,
    ...channels.map((name) => mark(answer, row, name)),
  ]);
  const heads = ['what it does', ...shown.flatMap(([name]) => channels.map((_, c) => (c === 0 ? name : '')))];
  const letters = ['', ...shown.flatMap(() => channels.map(channelLetter)), '', ...channels.map(channelLetter)];
  return tableLines(columns, [heads, ...(several ? [letters] : []), ...lines], options);
}

/** The same for a narrow column beside a figure: a line a channel. */
export function figureTableDown(answer: CheckAnswer, options: PageOptions): readonly string[] {
  const { channels } = answer;
  const shown = statesShown(answer);
  const several = channels.length > 1;
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left', gap: several ? 1 : 0 },
    ...shown.map((): Column => ({ align: 'right' })),
    { align: 'left', gap: 1 },
    { align: 'left', gap: 1 },
  ];
  const lines = figureRows(channels, answer.states.drawn).flatMap((row) =>
    channels
      .map((name, c) => ({ name, cells: shown.map(([, state]) => row.read(state, c)) }))
      .filter(({ cells }) => cells.some((cell) => cell !== ''))
      .map(({ name, cells }, n): readonly Cell[] => [
        n === 0 ? row.label : '',
        several && row.perChannel !== false ? channelLetter(name) : '',
        ...cells,
        row.unit,
        mark(answer, row, name),
      ]),
  );
  return tableLines(columns, [['what it does', '', ...shown.map(([name]) => name)], ...lines], options);
}

const worstFirst: readonly Level[] = ['fail', 'not measured', 'look', 'good'];

function mark({ findings, channels }: CheckAnswer, { judgedBy }: FigureRow, channel: string): Cell {
  const last = channels[channels.length - 1];
  const levels = findings
    .filter((finding) => finding.counts && judgedBy(finding) && (finding.channel ?? last) === channel)
    .map(({ level }) => level);
  const worst = worstFirst.find((level) => levels.includes(level));
  return worst === undefined ? '' : { text: markOf[worst], ink: inkOf[worst] };
}
