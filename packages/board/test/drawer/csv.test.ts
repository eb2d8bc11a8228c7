import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv, writeCsv } from '../../src/drawer/csv.ts';

function cellsOf(text: string): readonly (readonly string[])[] {
  const read = readCsv(text, 'd.csv');
  if (!read.ok) throw new Error(read.diagnostics[0]!.message);
  return read.value.rows.map(({ cells }) => cells.map((cell) => cell.text));
}

const cells = [
  ['a', 'b'],
  ['1', '2'],
];

describe('reading a table', () => {
  it.each([
    ['commas', 'a,b\n1,2\n'],
    ['semicolons', 'a;b\n1;2\n'],
    ['no end of the last line', 'a,b\n1,2'],
    ['lines that end in CR LF', 'a,b\r\n1,2\r\n'],
    ['lines that end in CR', 'a,b\r1,2\r'],
    ['a byte order mark', '\uFEFFa,b\n1,2\n'],
    ['a byte order mark before a quotation mark', '\uFEFF"a",b\n1,2\n'],
    ['quotation marks', '"a","b"\n"1","2"\n'],
    ['blanks around cells', ' a , b\n 1 ,\t"2" \n'],
    ['empty lines', '\na,b\n\n,\n1,2\n\n'],
  ])('with %s', (_, text) => {
    expect(cellsOf(text)).toEqual(cells);
  });

  it('keeps separators, quotation marks and ends of line that stand in quotation marks', () => {
    expect(cellsOf('a,b\n"x, ""y""","two\r\nlines"\n')).toEqual([
      ['a', 'b'],
      ['x, "y"', 'two\r\nlines'],
    ]);
  });

  it('takes the separator that the first line has more of', () => {
    expect(cellsOf('a;b,c;d\n1;2,5;3\n')).toEqual([
      ['a', 'b,c', 'd'],
      ['1', '2,5', '3'],
    ]);
  });

  it('counts rows as a spreadsheet does, and places by line and column', () => {
    const read = readCsv('\uFEFFa,b\n\n"two\nlines",  x\n1,"2"\n', 'd.csv');
    if (!read.ok) throw new Error('unread');
    const [, second, third] = read.value.rows;
    // The second row of cells is the third of the table and begins in line 3; the fourth follows the line inside the cell.
    expect([second!.number, third!.number]).toEqual([3, 4]);
    expect(second!.cells.map(({ place }) => [place.line, place.column])).toEqual([
      [3, 1],
      [4, 8],
    ]);
    expect(third!.cells.map(({ place }) => [place.line, place.column])).toEqual([
      [5, 1],
      [5, 3],
    ]);
  });

  it('refuses a quotation mark that is never closed, where it stands', () => {
    const read = readCsv('a,b\n1,"2\n3,4\n', 'd.csv');
    expect(read).toMatchObject({
      ok: false,
      diagnostics: [{ code: 'wrong-form', place: { file: 'd.csv', line: 2, column: 3 } }],
    });
  });
});

describe('writing a table', () => {
  it('is read back as it was', () => {
    // Blanks around a cell and cells that are all empty are not kept; all else is.
    const cell = fc.string({ unit: fc.constantFrom('a', '7', ' ', ',', ';', '"', '\n', '\r', 'µ', '\t') });
    const kept = cell.map((text) => text.trim());
    const table = fc.array(fc.tuple(fc.constant('x'), kept, kept), { minLength: 1 });
    fc.assert(
      fc.property(table, (rows) => {
        expect(cellsOf(writeCsv(['one', 'two', 'three'], rows)).slice(1)).toEqual(rows);
      }),
      { seed: 20261125, numRuns: 500 },
    );
  });
});
