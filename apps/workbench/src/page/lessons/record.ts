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

/** Rows of text, the head first; null where the text is no table. */
function rowsOf(text: string): readonly (readonly string[])[] | null {
  const table = readCsv(text, recordPath);
  return table.ok ? table.value.rows.map(({ cells }) => cells.map((cell) => cell.text)) : null;
}

function reader(head: readonly string[]): (row: readonly string[], name: string) => string {
  const columns = head.map((name) => name.toLowerCase());
  return (row, name) => row[columns.indexOf(name)] ?? '';
}

/** What is no row of a record is passed over. */
export function readRecord(text: string): readonly Done[] {
  const [head = [], ...rows] = rowsOf(text) ?? [];
  const read = reader(head);
  return rows.flatMap((row): readonly Done[] => {
    const cell = (name: string): string => read(row, name);
    const whole = (name: string): number | null => (/^\d+$/.test(cell(name)) ? Number(cell(name)) : null);
    const [lesson, board] = [cell('lesson'), cell('board')];
    if (lesson === '' || board === '') return [];
    const done = { lesson, board, mark: cell('mark'), answer: cell('answer'), date: cell('date') };
    return [{ ...done, measured: whole('measured'), fewest: whole('fewest') }];
  });
}

/**
 * The record with this in place of what it said of the same lesson and board; columns and rows of somebody else's stay. Null where the
 * text is no table, so that nothing is written over it.
 */
export function withDone(text: string | null, done: Done): string | null {
  const table = rowsOf(text ?? '');
  if (table === null) return null;
  const [head = [...header], ...rows] = table;
  const read = reader(head);
  const lacking = header.filter((name) => !head.some((each) => each.toLowerCase() === name));
  const whole = [...head, ...lacking];
  const written = (row: readonly string[]): readonly string[] =>
    whole.map((name, n) => {
      const own = header.find((each) => each === name.toLowerCase());
      return own === undefined ? (row[n] ?? '') : String(done[own] ?? '');
    });
  const same = rows.findIndex((row) => read(row, 'lesson') === done.lesson && read(row, 'board') === done.board);
  const others = rows.map((row, n) => (n === same ? written(row) : row));
  return writeCsv(whole, same < 0 ? [...others, written([])] : others);
}
