import { describe, expect, it } from 'vitest';
import type { ReworkSheet } from '@curvewright/verify';
import { cellsOf } from '../../src/cells.ts';
import { purchaseCsv, sheetCsv, sheetPage } from '../../src/index.ts';
import { spreadsheetCell } from '../../src/sheet/spreadsheet-cell.ts';

/** Invented. */
const sheet: ReworkSheet = {
  title: 'invented',
  board: 'invented card',
  unit: { model: 'X 1', serial: '007' },
  date: '2026-03-01',
  technician: '=HYPERLINK("x")',
  complaint: 'pops',
  cautions: ['Mains off.'],
  rows: [
    {
      ...{ ref: 'C101', twins: ['C101', 'C102'], action: 'fit', drawn: '0.68 µF tantalum', pulled: '0.9 µF, leaky' },
      ...{ fitted: '1 µF film, 63 V', why: '=1+1', marks: ['no polarity: either way round'], mind: [], photos: [] },
      checks: [
        { at: 'C101.plus', node: 'b1@left', volts: -1.234 },
        { at: 'C101.minus', node: 'in@left', volts: 2e-6 },
      ],
    },
    {
      ...{ ref: 'C102', twins: ['C101', 'C102'], action: 'leave empty', drawn: '0.68 µF tantalum', pulled: null },
      ...{ fitted: 'nothing', why: null, marks: [], mind: ['fail: too tall; choose another'], photos: ['p.jpg'] },
      checks: [{ at: 'C102.plus', node: 'b1@right', volts: null }],
    },
  ],
  left: [
    { ref: 'Q103', what: 'HN-A', pulled: null, why: 'quiet', photos: [] },
    { ref: 'Q104', what: 'HN-A', pulled: null, why: 'quiet', photos: [] },
    { ref: 'R1', what: '1 kΩ', pulled: '1010 Ω', why: null, photos: [] },
  ],
  untouched: 3,
  reminders: ['four screws'],
  photos: ['before.jpg'],
  meterOhms: 10e6,
  purchase: [
    {
      stock: '-A1',
      what: '1 µF film, 63 V',
      refs: ['C101'],
      quantity: 1,
      inDrawer: 4,
      toBuy: 0,
      price: 0.2,
      total: 0.2,
    },
    { stock: null, what: '@X', refs: ['Q1'], quantity: 2, inDrawer: null, toBuy: 2, price: null, total: null },
  ],
  purchaseTotal: 0.2,
};

/** Rows of cells, by RFC 4180. */
function parsed(text: string): readonly (readonly string[])[] {
  expect(text.endsWith('\r\n')).toBe(true);
  return text
    .slice(0, -2)
    .split('\r\n')
    .map((line) =>
      [...`,${line}`.matchAll(/,(?:"((?:[^"]|"")*)"|([^",]*))/g)].map(([, quoted, plain]) =>
        quoted === undefined ? (plain ?? '') : quoted.replaceAll('""', '"'),
      ),
    );
}

describe('a spreadsheet cell', () => {
  it.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1', ' =1', '＝1'])('%j begins no formula', (text) => {
    expect(spreadsheetCell(text)).toMatch(/^'/);
  });

  it.each(['1 µF', 'C101', '−1.2 V', 'a=b', ''])('%j stays as it is', (text) => {
    expect(spreadsheetCell(text)).toBe(text);
  });

  it('is one line', () => {
    expect(spreadsheetCell('a\nb\tc')).toBe('a b c');
  });
});

describe('the sheet as a table', () => {
  it('has a row for each position, a column for initials and no formula', () => {
    const [header, ...rows] = parsed(sheetCsv(sheet));
    expect(header!.at(-1)).toBe('initials');
    expect(rows.map(([ref]) => ref)).toEqual(['C101', 'C102', 'Q103', 'Q104', 'R1']);
    for (const row of rows) expect(row).toHaveLength(header!.length);
    const first = Object.fromEntries(header!.map((name, n) => [name, rows[0]![n]]));
    expect(first).toMatchObject({ why: "'=1+1", check: 'C101.plus −1.23 V; C101.minus 0 V', initials: '' });
    expect(rows[1]!.join()).toContain('C102.plus not found');
    for (const cell of rows.flat()) expect(cell).not.toMatch(/^[=+\-@\t]/);
  });

  it('has the purchases with their total', () => {
    const rows = parsed(purchaseCsv(sheet));
    expect(rows).toEqual([
      ['stock', 'what', 'positions', 'quantity', 'in_drawer', 'to_buy', 'price', 'total'],
      ["'-A1", '1 µF film, 63 V', 'C101', '1', '4', '0', '0.20', '0.20'],
      ['', "'@X", 'Q1', '2', '', '2', '', ''],
      ['', 'total', '', '', '', '', '', '0.20'],
    ]);
  });
});

describe('the sheet on the terminal', () => {
  const page = sheetPage(sheet, { width: 80, colour: false });

  it('keeps to its width, with the box for initials at its edge', () => {
    const lines = page.split('\n');
    for (const line of lines) expect(cellsOf(line)).toBeLessThanOrEqual(80);
    const boxes = lines.filter((line) => line.endsWith('[      ]'));
    expect(boxes).toHaveLength(2);
    for (const line of boxes) expect(cellsOf(line)).toBe(80);
  });

  it('says what is done, what is minded, what stays and what is put back', () => {
    expect(page).toContain('C101  fit 1 µF film, 63 V');
    expect(page).toContain('C102  leave empty ');
    expect(page).toContain('▲ fail: too tall; choose another');
    expect(page).toContain('Q103 Q104  HN-A: quiet');
    expect(page).toContain('R1  1 kΩ, read 1010 Ω: no reason given');
    expect(page).toContain('3 other positions');
    expect(page).toContain('☐ four screws');
    expect(page).toContain('10 MΩ');
  });
});
