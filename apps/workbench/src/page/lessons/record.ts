import { readCsv, writeCsv } from '@curvewright/board';

/** What was done of one lesson on one board. */
export interface Done {
  readonly lesson: string;
  /** The board's path. */
  readonly board: string;
  /** As it was put, `−6.5 dB`. */
  readonly mark: string;
  readonly answer: string;
  /** Of the fault card; null while it is not solved. */
  readonly measured: number | null;
  readonly fewest: number | null;
  /** ISO date of the last change. */
  readonly date: string;
}

/** Where the folder keeps it, as a table that any spreadsheet opens. */
export const recordPath = 'lessons.csv';

const header = ['lesson', 'board', 'mark', 'answer', 'measured', 'fewest', 'date'] as const;

/** What is no row of a record is left out. */
export function readRecord(text: string): readonly Done[] {
  const table = readCsv(text, recordPath);
  if (!table.ok) return [];
  const [head, ...rows] = table.value.rows;
  const columns = head?.cells.map((cell) => cell.text.toLowerCase()) ?? [];
  return rows.flatMap(({ cells }): readonly Done[] => {
    const cell = (name: string): string => cells[columns.indexOf(name)]?.text ?? '';
    const whole = (name: string): number | null => (/^\d+$/.test(cell(name)) ? Number(cell(name)) : null);
    const [lesson, board] = [cell('lesson'), cell('board')];
    if (lesson === '' || board === '') return [];
    const done = { lesson, board, mark: cell('mark'), answer: cell('answer'), date: cell('date') };
    return [{ ...done, measured: whole('measured'), fewest: whole('fewest') }];
  });
}

/** The record with this in place of what it said of the same lesson and board. */
export function withDone(text: string | null, done: Done): string {
  const others = readRecord(text ?? '').filter(({ lesson, board }) => lesson !== done.lesson || board !== done.board);
  return writeCsv(
    header,
    [...others, done].map((row) => header.map((name) => String(row[name] ?? ''))),
  );
}
