import type { Cell, CsvRow, Diagnostic, Outcome } from '@curvewright/board';
import { findColumns, type ResponseColumns, type StatedColumns } from './response-columns.ts';
import { separatedRows } from './separated.ts';

/** One frequency of a response that was measured elsewhere. */
export interface ResponsePoint {
  readonly hz: number;
  readonly db: number;
  /** Absent where the file has no phase. */
  readonly phaseDeg?: number;
}

/** Faults told of one file; a file in the wrong form has one in every row. */
const mostFaults = 20;

/**
 * Reads a response as a table of text: a row a frequency, with `,`, `;` or a tab between the cells, a decimal point, and comment lines that begin with
 * `#`, `*` or `//`. Columns are found by the header, or stated; without either the first three are Hz, dB and degrees. A level is dB
 * unless its header names volts or a ratio. Rows come back in the order of frequency. Faults are told with their row, line and column.
 */
export function readResponseCsv(
  text: string,
  file: string,
  stated: StatedColumns = {},
): Outcome<readonly ResponsePoint[]> {
  const read = separatedRows(text, file);
  if (!read.ok) return read;
  const [first, ...others] = read.value;
  if (first === undefined)
    return refused('wrong-form', { file, line: 1, column: 1 }, 'the table is empty; write a row a frequency');
  const found = findColumns(first, stated);
  if (!found.ok) return found;
  const columns = found.value;
  const faults: Diagnostic[] = [];
  const rowOf = new Map<number, number>();
  const points = (columns.isHeader ? others : [first, ...others]).flatMap((row): readonly ResponsePoint[] => {
    const point = pointOf(row, columns, first.cells.length);
    const twice = 'code' in point ? undefined : rowOf.get(point.hz);
    if ('code' in point) faults.push(point);
    else if (twice !== undefined) {
      const message = `row ${row.number}: ${point.hz} Hz stands in row ${twice}, too; keep one of them`;
      faults.push({ code: 'wrong-form', place: row.place, message });
    } else {
      rowOf.set(point.hz, row.number);
      return [point];
    }
    return [];
  });
  if (faults.length > 0) return { ok: false, diagnostics: faults.slice(0, mostFaults) };
  if (points.length === 0)
    return refused('wrong-form', first.place, 'the table has no row below its header; write a row a frequency');
  return { ok: true, value: points.toSorted((a, b) => a.hz - b.hz) };
}

function pointOf({ number: row, cells }: CsvRow, columns: ResponseColumns, width: number): ResponsePoint | Diagnostic {
  const beyond = cells.slice(width).find(({ text }) => text !== '');
  if (beyond !== undefined) {
    return fault(
      'wrong-form',
      beyond.place,
      row,
      width,
      'the first row has no such column; write decimals with a point, 1.5',
    );
  }
  const number = (index: number): number | Diagnostic => numberIn(cells, index, row);
  const frequency = number(columns.frequency.index);
  if (typeof frequency === 'object') return frequency;
  const level = number(columns.level.index);
  if (typeof level === 'object') return level;
  const at = (index: number): Diagnostic['place'] => cells[index]!.place;
  if (frequency <= 0) {
    return fault('out-of-range', at(columns.frequency.index), row, columns.frequency.index, 'a frequency is above 0');
  }
  const isLinear = columns.level.unit === 'linear';
  if (isLinear && level <= 0) {
    const message = 'a level that is no dB is above 0; leave the row out, or write dB in the header';
    return fault('out-of-range', at(columns.level.index), row, columns.level.index, message);
  }
  const point = { hz: frequency * columns.frequency.scale, db: isLinear ? 20 * Math.log10(level) : level };
  if (columns.phase === null) return point;
  const phase = number(columns.phase.index);
  return typeof phase === 'object' ? phase : { ...point, phaseDeg: phase * columns.phase.scale };
}

function numberIn(cells: readonly Cell[], index: number, row: number): number | Diagnostic {
  const cell = cells[index];
  if (cell === undefined || cell.text === '') {
    const place = cell?.place ?? cells.at(-1)!.place;
    return fault('missing-key', place, row, index, 'there is no number; write one, or leave the row out');
  }
  if (/^[+-]?\d+,\d+$/.test(cell.text)) {
    const message = `a decimal comma (${cell.text}); write ${cell.text.replace(',', '.')}`;
    return fault('comma-decimal', cell.place, row, index, message);
  }
  const plain = cell.text.replace('−', '-');
  const value = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(plain) ? Number(plain) : NaN;
  if (Number.isFinite(value)) return value;
  return fault('wrong-form', cell.place, row, index, `${JSON.stringify(cell.text)} is no number; write it as 1234.5`);
}

function fault(
  code: Diagnostic['code'],
  place: Diagnostic['place'],
  row: number,
  index: number,
  message: string,
): Diagnostic {
  return { code, place, message: `row ${row}, column ${index + 1}: ${message}` };
}

function refused(code: Diagnostic['code'], place: Diagnostic['place'], message: string): Outcome<never> {
  return { ok: false, diagnostics: [{ code, place, message }] };
}
