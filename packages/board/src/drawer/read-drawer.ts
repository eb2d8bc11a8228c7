import type { Diagnostic, Outcome } from '../diagnostics.ts';
import { shown } from '../schema/fields.ts';
import { readCsv, type Cell, type CsvRow } from './csv.ts';
import { cellReaders } from './cell-readers.ts';
import { stockPart } from './stock-row.ts';
import type { StockPart } from './stock.ts';

/** What lies in the shop's drawer. */
export interface Drawer {
  readonly file: string;
  readonly stock: readonly StockPart[];
  /** Rows that could not be read and were left out, one diagnostic a fault, each naming its row and column. */
  readonly faults: readonly Diagnostic[];
}

/** Columns without which no row says what it is. */
const needed = ['stock', 'kind'];

/**
 * Reads a drawer: a table with the columns stock, kind, build, type, value, tolerance, rated, esr, leakage, loss, pitch, diameter, height,
 * case_leads, quantity, price and note, in any order, and with any others, which are kept. Refused only where the table as a whole cannot be
 * read; a faulty row is left out.
 */
export function readDrawer(text: string, file: string): Outcome<Drawer> {
  const table = readCsv(text, file);
  if (!table.ok) return table;
  const [header, ...rows] = table.value.rows;
  const columns = header?.cells.map((cell) => cell.text.toLowerCase()) ?? [];
  const unreadable = headerFaults(header, columns, file);
  if (unreadable.length > 0) return { ok: false, diagnostics: unreadable };
  const readers = cellReaders(table.value.separator);
  const stock: StockPart[] = [];
  const faults: Diagnostic[] = [];
  const rowOf = new Map<string, number>();
  for (const row of rows) {
    const cells = cellsByColumn(row, columns);
    if (!cells.ok) {
      faults.push(...cells.diagnostics);
      continue;
    }
    const read = stockPart(cells.value, row, readers);
    if (!read.ok) {
      faults.push(...read.diagnostics);
      continue;
    }
    const before = rowOf.get(read.value.stock);
    if (before !== undefined) {
      const message = `row ${row.number}, stock: ${shown(read.value.stock)} stands in row ${before} already; write a code of its own`;
      faults.push({ code: 'designator-twice', place: read.value.place, message });
      continue;
    }
    rowOf.set(read.value.stock, row.number);
    stock.push(read.value);
  }
  return { ok: true, value: { file, stock, faults } };
}

function headerFaults(header: CsvRow | undefined, columns: readonly string[], file: string): readonly Diagnostic[] {
  const place = header?.place ?? { file, line: 1, column: 1 };
  const missing = needed.filter((name) => !columns.includes(name));
  const twice = columns.find((name, n) => name !== '' && columns.indexOf(name) !== n);
  return [
    ...missing.map((name): Diagnostic => ({
      code: 'missing-key',
      place,
      message: `the first row has no column ${name}; write stock, kind, value and so on there`,
    })),
    ...(twice === undefined
      ? []
      : [
          {
            code: 'unknown-key',
            place,
            message: `two columns are called ${shown(twice)}; give one another name`,
          } as const,
        ]),
  ];
}

/** The cells that are not empty, by the name of their column. */
function cellsByColumn(row: CsvRow, columns: readonly string[]): Outcome<ReadonlyMap<string, Cell>> {
  const beyond = row.cells.slice(columns.length).find((cell) => cell.text !== '');
  if (beyond !== undefined) {
    const message = `row ${row.number}: there is a cell more than the first row has columns (${shown(beyond.text)}); put text that holds the separator in quotation marks`;
    return { ok: false, diagnostics: [{ code: 'wrong-form', place: beyond.place, message }] };
  }
  const cells = row.cells.slice(0, columns.length).map((cell, n) => [columns[n] ?? '', cell] as const);
  return { ok: true, value: new Map(cells.filter(([name, cell]) => name !== '' && cell.text !== '')) };
}
