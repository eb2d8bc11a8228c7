import type { FitAnswer, LeadAnswer, StringsAnswer } from '@curvewright/verify';
import { hanging, wrap } from './cells.ts';
import { leadText } from './fit/lead-text.ts';
import { stringText } from './fit/string-text.ts';
import { inkOf, markOf } from './ink.ts';
import { marginOf, valueWords, wordsOf } from './limit-words.ts';
import { change, none, quantity } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { refRuns } from './ref-runs.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { tableLines, type Cell, type Column } from './table.ts';

/** Ratings with their margins, polarity and sizes, part by part; how transistors go into their holes; strings of diodes. */
export function fitPage(answer: FitAnswer, options: StagePageOptions): string {
  return stagePage(options, 'will it fit', (page) => [
    parts(answer, page),
    ...leadSections(answer, page),
    ...answer.strings.map((strings) => stringTable(strings, page)),
    ...answer.fitted.map((string) => [`${string.ref}, a string:`, '', ...stringText(string, page.width)]),
    notes(answer, page),
  ]);
}

/** Parts that read alike, as the two of a pair do, share a line. */
function parts({ rows }: FitAnswer, page: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left', gap: 1 },
    { align: 'left' },
    { align: 'right' },
    { align: 'right' },
    { align: 'left', wraps: true },
  ];
  const lines = new Map<string, { row: FitAnswer['rows'][number]; refs: string[]; cells: readonly string[] }>();
  for (const row of rows.filter(({ what }) => what !== 'leads')) {
    const cells = [
      `${wordsOf[row.what]}, ${row.where}`,
      row.what === 'ceramic' ? none : valueWords(row),
      row.what === 'ceramic' || Number.isNaN(row.margin) ? none : marginOf(row),
      row.bound,
    ];
    const key = [row.level, ...cells].join('|');
    const known = lines.get(key);
    if (known === undefined) lines.set(key, { row, refs: [row.ref], cells });
    else known.refs.push(row.ref);
  }
  if (lines.size === 0) return ['No part of this stage states anything that could be held against its place.'];
  const table = [...lines.values()].map(({ row: { level }, refs, cells }): readonly Cell[] => [
    { text: markOf[level], ink: inkOf[level] },
    refRuns(refs),
    ...cells,
  ]);
  return tableLines(columns, [['', 'part', 'question', 'value', 'to spare', 'of'], ...table], page);
}

/** Each way once for the parts that go in alike. */
function leadSections({ leads }: FitAnswer, page: PageOptions): readonly (readonly string[])[] {
  const alike = new Map<string, LeadAnswer[]>();
  for (const each of leads) {
    const key = JSON.stringify([each.typeName, each.holes, each.inHoles, each.cases]);
    alike.set(key, [...(alike.get(key) ?? []), each]);
  }
  return [...alike.values()].map((same) => [
    ...same.flatMap(({ row }) => wrap(row.cause, page.width)),
    '',
    ...same.slice(0, 1).flatMap((each) => leadText(each, page.width)),
  ]);
}

function stringTable(
  { ref, wantedV, wantedDriftVPerK, amps, strings }: StringsAnswer,
  page: PageOptions,
): readonly string[] {
  const drift = (perK: number | null): string => (perK === null ? none : `${change(perK, 'V')}/K`);
  const columns: readonly Column[] = [
    { align: 'left' },
    ...['drop', 'error', 'drift', 'moves most', 'overload'].map((): Column => ({ align: 'right' })),
  ];
  const lines = strings.map((each) => [
    `${each.count} × ${each.type}`,
    quantity(each.dropV, 'V'),
    change(each.errorV, 'V'),
    drift(each.driftVPerK),
    `${each.node} ${change(each.nodeMv / 1000, 'V')}`,
    each.overloadMv === null ? none : quantity(each.overloadMv / 1000, 'V'),
  ]);
  const wanted = `${ref}: ${quantity(wantedV, 'V')} at ${quantity(amps, 'A')} as drawn, ${drift(wantedDriftVPerK)}`;
  return [
    ...wrap(`${wanted}; each string solved in place of it:`, page.width),
    ...tableLines(columns, [['in series', 'drop', 'error', 'drift', 'moves most', 'overload'], ...lines], page),
  ];
}

/** What is not good, and what to do about it. */
function notes({ rows }: FitAnswer, { width }: PageOptions): readonly string[] {
  const open = rows.filter(({ level }) => level !== 'good');
  return [
    ...open.flatMap(({ level, cause, next }) => [
      ...hanging(`${markOf[level]} ${level}  `, cause, width),
      ...hanging('  Next: ', next, width),
    ]),
    ...wrap(
      'A rating that the file does not state is asked for of fitted capacitors, resistors and bipolar transistors only.',
      width,
    ),
  ];
}
