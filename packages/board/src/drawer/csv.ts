import type { Diagnostic, Outcome, Place } from '../diagnostics.ts';

/** One cell as written, without its quotes and the blanks around it, and where it begins. */
export interface Cell {
  readonly text: string;
  readonly place: Place;
}

/** A table of text: the separator that its first line uses, and its rows without those that are empty. */
export interface CsvTable {
  readonly separator: ',' | ';';
  readonly rows: readonly CsvRow[];
}

export interface CsvRow {
  /** As a spreadsheet counts, from 1. */
  readonly number: number;
  /** Of its first cell. */
  readonly place: Place;
  readonly cells: readonly Cell[];
}

/**
 * Reads comma-separated text (RFC 4180; `;` in place of the comma where the first line has more of them, a byte order mark is passed over).
 * A quotation mark that is never closed is the only fault: what follows it is anybody's guess.
 */
export function readCsv(text: string, file: string): Outcome<CsvTable> {
  const source = text.replace(/^\uFEFF/, '');
  const separator = separatorOf(source);
  const rows: CsvRow[] = [];
  let cells: Cell[] = [];
  let [at, line, lineStart, number] = [0, 1, 0, 1];
  const endRow = (): void => {
    const [first] = cells;
    if (first !== undefined && cells.some((cell) => cell.text !== '')) rows.push({ number, place: first.place, cells });
    cells = [];
    number += 1;
  };
  while (at <= source.length) {
    const place: Place = { file, line, column: at - lineStart + 1 };
    let written = '';
    if (/^[ \t]*"/.test(source.slice(at, at + 80))) {
      at = source.indexOf('"', at) + 1;
      for (;;) {
        const end = source.indexOf('"', at);
        if (end < 0) return { ok: false, diagnostics: [unclosed(place, number)] };
        const piece = source.slice(at, end);
        for (let n = 0; n < piece.length; n++) {
          if (piece[n] !== '\n') continue;
          line += 1;
          lineStart = at + n + 1;
        }
        written += piece;
        at = end + 1;
        if (source[at] !== '"') break;
        written += '"';
        at += 1;
      }
    }
    const start = at;
    while (at < source.length && source[at] !== separator && source[at] !== '\n' && source[at] !== '\r') at += 1;
    cells.push({ text: (written + source.slice(start, at)).trim(), place });
    if (source[at] === separator) {
      at += 1;
      continue;
    }
    endRow();
    at += source[at] === '\r' && source[at + 1] === '\n' ? 2 : 1;
    line += 1;
    lineStart = at;
  }
  return { ok: true, value: { separator, rows } };
}

function separatorOf(source: string): ',' | ';' {
  const [first = ''] = source.split(/[\r\n]/, 1);
  return first.split(';').length > first.split(',').length ? ';' : ',';
}

function unclosed(place: Place, row: number): Diagnostic {
  const message = `row ${row}: a quotation mark is opened and never closed; write another one at the end of the cell, or none`;
  return { code: 'wrong-form', place, message };
}

/** A cell's text, for a spreadsheet: in quotation marks where it has to be. */
function csvCell(text: string): string {
  return /[",;\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Rows as comma-separated text with a header; lines end as RFC 4180 asks. */
export function writeCsv(header: readonly string[], rows: readonly (readonly string[])[]): string {
  return [header, ...rows].map((row) => `${row.map(csvCell).join(',')}\r\n`).join('');
}
