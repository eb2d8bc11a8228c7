import type { Part } from '../circuit.ts';
import type { Diagnostic, Outcome, Place } from '../diagnostics.ts';
import { kindInWords } from '../piece-keys.ts';
import { shown } from '../schema/fields.ts';
import { cellReaders, type CellReaders, type CellReading } from './cell-readers.ts';
import { readCsv, type CsvRow } from './csv.ts';
import { pieceColumns, type PieceFigures } from './piece-columns.ts';

/** One piece of a bag of parts, with what was read on it. */
export interface MeasuredPiece {
  /** Its name: what is written on its bag or beside its lead. */
  readonly piece: string;
  readonly figures: PieceFigures;
  readonly place: Place;
}

export interface Pieces {
  readonly pieces: readonly MeasuredPiece[];
  /** Rows that could not be read and were left out, one diagnostic a fault, each naming its row and column. */
  readonly faults: readonly Diagnostic[];
}

/**
 * Reads a table of pieces that are to stand in the place of `part`: a column `piece` and those of the part's kind (value, esr, leakage and
 * loss of a capacitor; hfe, vbe with vbe_at of a transistor), in any order, with others that are passed over. A column that is there has to
 * be filled in every row. Refused where no column says anything of such a part.
 */
export function readPieces(text: string, file: string, part: Part): Outcome<Pieces> {
  const table = readCsv(text, file);
  if (!table.ok) return table;
  const [header, ...rows] = table.value.rows;
  const names = header?.cells.map((cell) => cell.text.toLowerCase()) ?? [];
  const columns = pieceColumns(part);
  const used = columns.filter(({ name }) => names.includes(name));
  const refused = headerFault(names, part);
  if (refused !== null) {
    const place = header?.place ?? { file, line: 1, column: 1 };
    return { ok: false, diagnostics: [{ code: 'missing-key', place, message: refused }] };
  }
  const readers = cellReaders(table.value.separator);
  const pieces: MeasuredPiece[] = [];
  const faults: Diagnostic[] = [];
  const rowOf = new Map<string, number>();
  for (const row of rows) {
    const read = pieceIn(row, names, used, readers);
    if (!read.ok) {
      faults.push(...read.diagnostics);
      continue;
    }
    const { piece, place } = read.value;
    const before = rowOf.get(piece);
    if (before === undefined) {
      rowOf.set(piece, row.number);
      pieces.push(read.value);
      continue;
    }
    const message = `row ${row.number}, piece: ${shown(piece)} stands in row ${before} already; write a name of its own`;
    faults.push({ code: 'designator-twice', place, message });
  }
  return { ok: true, value: { pieces, faults } };
}

function headerFault(names: readonly string[], part: Part): string | null {
  const columns = pieceColumns(part).map(({ name }) => name);
  if (columns.length === 0) return `${part.ref} is ${kindInWords(part)}, which has no figure that pieces are sorted by`;
  const offer = `write piece, ${columns.join(', ')} there`;
  if (!names.includes('piece')) return `the first row has no column piece; ${offer}`;
  const twice = names.find((name, n) => name !== '' && names.indexOf(name) !== n);
  if (twice !== undefined) return `two columns are called ${shown(twice)}; give one another name`;
  if (!columns.some((name) => names.includes(name)))
    return `no column of the first row says anything of ${kindInWords(part)}; ${offer}`;
  const current = columns.find(
    (name) => name.endsWith('_at') && names.includes(name) !== names.includes(name.slice(0, -3)),
  );
  if (current !== undefined)
    return `${current.slice(0, -3)} and ${current}, the current at which it was read, belong together; write both columns`;
  return null;
}

function pieceIn(
  { number, place: first, cells }: CsvRow,
  names: readonly string[],
  used: ReturnType<typeof pieceColumns>,
  readers: CellReaders,
): Outcome<MeasuredPiece> {
  const diagnostics: Diagnostic[] = [];
  const cellOf = (name: string): CsvRow['cells'][number] | undefined => cells[names.indexOf(name)];
  const refuse = (name: string, { code, message }: Pick<Diagnostic, 'code' | 'message'>): void => {
    diagnostics.push({ code, place: cellOf(name)?.place ?? first, message: `row ${number}, ${name}: ${message}` });
  };
  const piece = cellOf('piece')?.text ?? '';
  if (piece === '') refuse('piece', { code: 'missing-key', message: 'is empty; write what is on the piece' });
  const figures: Record<string, number> = {};
  for (const { name, read, example } of used) {
    const text = cellOf(name)?.text ?? '';
    const reading: CellReading<number> =
      text === ''
        ? { ok: false, code: 'missing-key', message: `is empty; write ${example}, or leave the column out` }
        : read(text, readers);
    if (reading.ok) figures[name] = reading.value;
    else refuse(name, reading);
  }
  const beyond = cells.slice(names.length).find((cell) => cell.text !== '');
  if (beyond !== undefined) {
    const message = `row ${number}: there is a cell more than the first row has columns (${shown(beyond.text)}); put text that holds the separator in quotation marks`;
    diagnostics.push({ code: 'wrong-form', place: beyond.place, message });
  }
  return diagnostics.length > 0 ? { ok: false, diagnostics } : { ok: true, value: { piece, figures, place: first } };
}
