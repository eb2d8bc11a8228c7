import type { CheckAnswer, StateAnswer } from '@curvewright/verify';
import { biasTable } from './bias-table.ts';
import { cellsOf, clip, hanging, oneLine, padEnd, wrap } from './cells.ts';
import { deviationChart } from './deviation-chart.ts';
import { deviceTable } from './device-table.ts';
import { figureTableAcross, figureTableDown } from './figure-table.ts';
import { contextFindings, goodFindings, openFindings } from './finding-lines.ts';
import { footNotes } from './foot-notes.ts';
import { inkOf, markOf, paint } from './ink.ts';
import { measuredLines } from './measured-lines.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { positionTable } from './position-table.ts';
import { statesShown } from './states-shown.ts';
import { verdictWords } from './verdict-words.ts';

/** From this width on the figures stand beside the chart. */
const wide = 104;

/** The page of a job or a board on the terminal: verdict, deviation, figures, positions, bias, findings, what it leans on. */
export function checkPage(answer: CheckAnswer, options: PageOptions): string {
  const width = pageWidth(options);
  const page = { ...options, width };
  const rule = '─'.repeat(width);
  const sections = [
    positionTable(answer, page),
    biasTable(answer, page),
    deviceTable(answer, page),
    measuredLines(answer, page),
    openFindings(answer, page),
    goodFindings(answer, page),
    contextFindings(answer, page),
    footNotes(answer, page),
  ].filter((lines) => lines.length > 0);
  return [
    ...header(answer, page),
    rule,
    ...(width >= wide
      ? figuresBesideTable(answer, page)
      : [...figure(answer, page, 15), '', ...figureTableAcross(answer, page)]),
    ...sections.flatMap((lines) => [rule, ...lines]),
  ].join('\n');
}

function header({ title, verdict, findings }: CheckAnswer, { width, colour }: PageOptions): readonly string[] {
  const summary = verdictWords({ findings });
  const mark = `${markOf[verdict]} ${verdict}`;
  const right = cellsOf(`${mark}   ${summary}`);
  const painted = `${paint(mark, inkOf[verdict], colour)}   ${clip(summary, width - cellsOf(mark) - 3)}`;
  const room = width - right - 3;
  if (cellsOf(oneLine(title)) <= room) return [`${padEnd(oneLine(title), room)}   ${painted}`];
  return [...wrap(title, width), painted];
}

/** The chart of one channel; the one that is furthest off in any state where none is asked for. */
function figure(answer: CheckAnswer, page: PageOptions, rows: number, channel?: number): readonly string[] {
  const shown = statesShown(answer);
  const index = channel ?? furthestOff(shown.map(([, state]) => state));
  const curves = shown.map(([state, { curves }]) => ({ state, hz: curves.hz, db: curves.channels[index] ?? [] }));
  const name = answer.channels.length > 1 ? `, ${answer.channels[index] ?? ''}` : '';
  const which = channel === undefined && answer.channels.length > 1 ? ', the channel further off' : '';
  return [
    ...hanging(`Fig. ${(channel ?? 0) + 1}  `, `Deviation from the RIAA curve${name}${which}`, page.width),
    ...deviationChart(curves, answer.limits.deviation, { ...page, rows }).split('\n'),
  ];
}

function furthestOff(states: readonly StateAnswer[]): number {
  const channels = states[0]?.channels.map((_, c) =>
    Math.max(...states.map((state) => Math.abs(state.channels[c]?.worstDeviationDb ?? 0))),
  );
  return Math.max(0, channels?.indexOf(Math.max(...channels)) ?? 0);
}

/** Lines of a figure besides its rows: title, dB, axis, frequencies, legend. */
const figureFrame = 5;

/** Both channels of a pair one under the other beside the table; of other boards the one channel that is furthest off. */
function figuresBesideTable(answer: CheckAnswer, { width, colour }: PageOptions): readonly string[] {
  const table = figureTableDown(answer, { width: width - 50, colour });
  const between = ' │ ';
  const left = { width: width - Math.max(...table.map(cellsOf)) - between.length, colour };
  const isPair = answer.channels.length === 2;
  const rows = Math.floor(table.length / (isPair ? 2 : 1)) - figureFrame;
  const charts = isPair ? [0, 1].flatMap((c) => figure(answer, left, rows, c)) : figure(answer, left, rows);
  return Array.from({ length: Math.max(charts.length, table.length) }, (_, n) => {
    const line = charts[n] ?? '';
    return `${line}${' '.repeat(Math.max(0, left.width - cellsOf(line)))}${between}${table[n] ?? ''}`.trimEnd();
  });
}
