import type { PastAnswer, PastGroup, PastRange, PastReading } from '@curvewright/verify';
import { oneLine, wrap } from './cells.ts';
import { decimals, none, quantity } from './numbers.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { tableLines, type Column } from './table.ts';

/** What pulled parts read in the jobs of a folder: one line a part, then one a make and decade of age. */
export function historyPage({ asked, readings, groups }: PastAnswer, jobs: number, options: PageOptions): string {
  const page = { ...options, width: pageWidth(options) };
  const rule = '─'.repeat(page.width);
  const among = `${readings.length} pulled ${readings.length === 1 ? 'part' : 'parts'} in ${jobs} ${jobs === 1 ? 'job' : 'jobs'}`;
  const heading = wrap(`${oneLine(asked)}: ${among}`, page.width).join('\n');
  if (readings.length === 0) {
    const hint =
      'Ask for a designator (C101), a build (tantalum), a type or a kind, as the jobs write them under pulled.';
    return [heading, wrap(hint, page.width).join('\n')].join(`\n${rule}\n`);
  }
  return [heading, partLines(readings, page).join('\n'), groupLines(groups, page).join('\n')].join(`\n${rule}\n`);
}

const left: Column = { align: 'left' };
const wrapping: Column = { align: 'left', wraps: true };

function partLines(readings: readonly PastReading[], page: PageOptions): readonly string[] {
  const rows = readings.map((each) => [
    each.ref,
    each.date ?? none,
    each.ageYears === null ? none : `${each.ageYears} a`,
    each.make.replaceAll('_', ' '),
    each.drawn,
    each.read === null ? none : `${each.read}, ${percent(each.valueRatio)}`,
    ohms(each.esrOhms),
    ohms(each.leakageOhms),
    each.hFE === null ? none : decimals(each.hFE, 0),
    each.faults.join(', ').replaceAll('_', ' '),
    each.board,
  ]);
  const heads = ['part', 'date', 'age', 'make', 'drawn', 'read', 'ESR', 'leakage', 'hFE', 'faults', 'board'];
  const columns = heads.map((head): Column => (head === 'board' ? wrapping : left));
  return tableLines(...without('hFE', columns, [heads, ...rows]), page);
}

/** A column without a single entry is left out. */
function without(
  head: string,
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
): [readonly Column[], readonly (readonly string[])[]] {
  const at = rows[0]?.indexOf(head) ?? -1;
  const isEmpty = at >= 0 && rows.slice(1).every((row) => row[at] === none);
  const drop = <T>(items: readonly T[]): readonly T[] => items.filter((_, n) => n !== at);
  return isEmpty ? [drop(columns), rows.map(drop)] : [columns, rows];
}

function groupLines(groups: readonly PastGroup[], page: PageOptions): readonly string[] {
  const rows = groups.map(({ make, decade, pulled, faults, ...ranges }) => [
    `${make.replaceAll('_', ' ')}${decade === null ? '' : `, ${decade} to ${decade + 9} a`}`,
    String(pulled),
    span(ranges.valueRatio, percent),
    span(ranges.esrOhms, ohms),
    span(ranges.leakageOhms, ohms),
    span(ranges.hFE, (gain) => decimals(gain, 0)),
    faults.map(({ name, count }) => `${count} ${name.replaceAll('_', ' ')}`).join(', '),
  ]);
  const heads = ['make and age', 'pulled', 'of drawn', 'ESR', 'leakage', 'hFE', 'faults'];
  const columns: readonly Column[] = [left, { align: 'right' }, left, left, left, left, wrapping];
  return [
    ...tableLines(...without('hFE', columns, [heads, ...rows]), page),
    ...wrap('Median (lowest to highest) of those that were read.', page.width),
  ];
}

function span(range: PastRange | null, print: (value: number) => string): string {
  if (range === null) return none;
  const { count, low, median, high } = range;
  return count === 1 ? print(median) : `${print(median)} (${print(low)} – ${print(high)})`;
}

function ohms(value: number | null): string {
  return value === null ? none : quantity(value, 'Ω', 2);
}

function percent(ratio: number | null): string {
  return ratio === null ? none : `${decimals(100 * ratio, 0)} %`;
}
