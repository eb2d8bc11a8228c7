import { printQuantity } from '@curvewright/quantity';
import type { LeftIn, ReworkSheet, SheetRow } from '@curvewright/verify';
import { cellsOf, hanging, oneLine, padEnd, wrap } from '../cells.ts';
import { none } from '../numbers.ts';
import { pageWidth, type PageOptions } from '../page-options.ts';
import { tableLines, type Column } from '../table.ts';
import { checkWords, money } from './sheet-csv.ts';

/** What lies beside the iron, on paper: cautions first, then position by position with a box for initials, reassembly and purchase last. */
export function sheetPage(sheet: ReworkSheet, options: PageOptions): string {
  const page = { ...options, width: pageWidth(options) };
  const sections = [
    heading(sheet, page),
    sheet.cautions.flatMap((caution) => hanging('!  ', caution, page.width)),
    sheet.rows.length === 0
      ? ['The job fits nothing and mends nothing.']
      : sheet.rows.flatMap((row, n) => [...(isNewPlace(sheet.rows, n) ? [''] : []), ...rowLines(row, page)]),
    leftLines(sheet, page),
    listLines('Before the lid goes on', sheet.reminders, page),
    listLines('Photos', sheet.photos, page),
    purchaseLines(sheet, page),
    wrap(
      `Voltages as a meter of ${printQuantity(sheet.meterOhms, 'Ω')} will read them to gnd, computed for the rebuilt board; nothing was measured.`,
      page.width,
    ),
  ];
  return sections
    .filter(({ length }) => length > 0)
    .map((lines) => lines.join('\n'))
    .join(`\n${'─'.repeat(page.width)}\n`);
}

function heading(
  { title, board, unit, date, technician, complaint }: ReworkSheet,
  { width }: PageOptions,
): readonly string[] {
  const about = [
    board,
    ...(unit.model === undefined ? [] : [unit.model]),
    ...(unit.serial === undefined ? [] : [`serial ${unit.serial}`]),
    ...(date === null ? [] : [date]),
    ...(technician === null ? [] : [technician]),
  ];
  return [
    ...wrap(`${oneLine(title)}: rework sheet`, width),
    ...wrap(about.join(' · '), width),
    ...(complaint === null ? [] : hanging('Complaint: ', complaint, width)),
  ];
}

function isNewPlace(rows: readonly SheetRow[], n: number): boolean {
  return n > 0 && !rows[n]?.twins.includes(rows[n - 1]?.ref ?? '');
}

/** Room for the initials of whoever did it. */
const box = '[      ]';

const actionWords: Readonly<Record<SheetRow['action'], string>> = {
  fit: 'fit',
  'leave empty': 'leave empty',
  'put back': 'put back',
  mend: 'mend, leave in',
  add: 'new:',
};

function rowLines(row: SheetRow, page: PageOptions): readonly string[] {
  const { ref, action, drawn, pulled, fitted, why, marks, mind, checks, photos } = row;
  const was = [...(drawn === null ? [] : [`drawn ${drawn}`]), ...(pulled === null ? [] : [`pulled ${pulled}`])];
  const does = `${actionWords[action]}${action === 'leave empty' ? '' : ` ${fitted}`}`;
  const under = (lead: string, text: string): readonly string[] => hanging(`      ${lead}`, text, page.width);
  const room = page.width - cellsOf(box) - 1;
  const [first = '', ...more] = hanging(`${padEnd(ref, 5)} `, does, room);
  return [
    `${padEnd(first, room)} ${box}`,
    ...more,
    ...(was.length === 0 ? [] : under('', was.join('; '))),
    ...marks.flatMap((mark) => under('◦ ', mark)),
    ...mind.flatMap((each) => under('▲ ', each)),
    ...(checks.length === 0 ? [] : under('read ', checks.map(checkWords).join(', '))),
    ...(why === null ? [] : under('why ', why)),
    ...(photos.length === 0 ? [] : under('photos ', photos.join(', '))),
  ];
}

/** Twins that stay for the same reason share a line. */
function leftLines({ left, untouched }: ReworkSheet, { width }: PageOptions): readonly string[] {
  const alike = new Map<string, LeftIn[]>();
  for (const each of left) {
    const key = JSON.stringify([each.what, each.pulled, each.why]);
    alike.set(key, [...(alike.get(key) ?? []), each]);
  }
  const lines = [...alike.values()].flatMap((same) => {
    const [first] = same;
    if (first === undefined) return [];
    const { what, pulled, why } = first;
    const read = pulled === null ? '' : `, read ${pulled}`;
    return hanging(`  ${same.map(({ ref }) => ref).join(' ')}  `, `${what}${read}: ${why ?? 'no reason given'}`, width);
  });
  const rest = untouched === 0 ? [] : wrap(`${untouched} other positions: the job does not speak of them.`, width);
  return [...(lines.length === 0 ? [] : ['Not replaced, and why', ...lines]), ...rest];
}

function listLines(head: string, items: readonly string[], { width }: PageOptions): readonly string[] {
  return items.length === 0 ? [] : [head, ...items.flatMap((item) => hanging('  ☐ ', item, width))];
}

function purchaseLines({ purchase, purchaseTotal }: ReworkSheet, page: PageOptions): readonly string[] {
  if (purchase.length === 0) return [];
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left', wraps: true },
    { align: 'left', wraps: true },
    ...Array.from({ length: 5 }, (): Column => ({ align: 'right' })),
  ];
  return tableLines(
    columns,
    [
      ['stock', 'what', 'for', 'pieces', 'has', 'to buy', 'price', 'total'],
      ...purchase.map(({ stock, what, refs, quantity, inDrawer, toBuy, price, total }) => [
        stock ?? none,
        what,
        refs.join(' '),
        String(quantity),
        inDrawer === null ? none : String(inDrawer),
        String(toBuy),
        price === null ? none : money(price),
        total === null ? none : money(total),
      ]),
      ['', 'total', '', '', '', '', '', money(purchaseTotal)],
    ],
    page,
  );
}
