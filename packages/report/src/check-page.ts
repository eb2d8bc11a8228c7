import type { CheckAnswer, Level } from '@curvewright/verify';
import { biasTable } from './bias-table.ts';
import { cellsOf, clip, oneLine, padEnd, wrap } from './cells.ts';
import { deviationChart } from './deviation-chart.ts';
import { figureTableAcross, figureTableDown } from './figure-table.ts';
import { contextFindings, goodFindings, openFindings } from './finding-lines.ts';
import { footNotes } from './foot-notes.ts';
import { inkOf, markOf, paint } from './ink.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { positionTable } from './position-table.ts';
import { statesShown } from './states-shown.ts';

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
    openFindings(answer, page),
    goodFindings(answer, page),
    contextFindings(answer, page),
    footNotes(answer, page),
  ].filter((lines) => lines.length > 0);
  return [
    ...header(answer, page),
    rule,
    ...(width >= wide ? figureBesideTable(answer, page) : [...figure(answer, page, 15), '', ...figureTableAcross(answer, page)]),
    ...sections.flatMap((lines) => [rule, ...lines]),
  ].join('\n');
}

function header({ title, verdict, findings }: CheckAnswer, { width, colour }: PageOptions): readonly string[] {
  const counting = findings.filter(({ counts }) => counts);
  const count = (level: Level): number => counting.filter((finding) => finding.level === level).length;
  const counts = [
    ...(count('fail') > 0 ? [`${count('fail')} outside the limits`] : []),
    ...(count('look') > 0 ? [`${count('look')} to look at`] : []),
    ...(count('not measured') > 0 ? [`${count('not measured')} not measured`] : []),
  ];
  const summary = counts.length > 0 ? counts.join(' · ') : `${counting.length} figures inside their limits`;
  const mark = `${markOf[verdict]} ${verdict}`;
  const right = cellsOf(`${mark}   ${summary}`);
  const painted = `${paint(mark, inkOf[verdict], colour)}   ${clip(summary, width - cellsOf(mark) - 3)}`;
  const room = width - right - 3;
  if (cellsOf(oneLine(title)) <= room) return [`${padEnd(oneLine(title), room)}   ${painted}`];
  return [...wrap(title, width), painted];
}

function figure(answer: CheckAnswer, { width, colour }: PageOptions, rows: number): readonly string[] {
  const shown = statesShown(answer);
  const [, counting] = shown.at(-1) ?? ['drawn', answer.states.drawn];
  const deviations = counting.channels.map(({ worstDeviationDb }) => Math.abs(worstDeviationDb));
  const channel = Math.max(0, deviations.indexOf(Math.max(...deviations)));
  const curves = shown.map(([state, { curves }]) => ({ state, hz: curves.hz, db: curves.channels[channel] ?? [] }));
  const name = answer.channels[channel] ?? '';
  const which = answer.channels.length > 1 ? `, ${name} channel (the one further off)` : '';
  return [
    ...wrap(`Fig. 1  Deviation from the RIAA curve${which}`, width),
    ...deviationChart(curves, answer.limits.deviation, { width, rows, colour }).split('\n'),
  ];
}

function figureBesideTable(answer: CheckAnswer, { width, colour }: PageOptions): readonly string[] {
  const table = figureTableDown(answer, { width: width - 60, colour });
  const between = ' │ ';
  const left = width - Math.max(...table.map(cellsOf)) - between.length;
  const chart = figure(answer, { width: left, colour }, table.length - 6);
  return Array.from({ length: Math.max(chart.length, table.length) }, (_, n) => {
    const line = chart[n] ?? '';
    return `${line}${' '.repeat(Math.max(0, left - cellsOf(line)))}${between}${table[n] ?? ''}`.trimEnd();
  });
}
