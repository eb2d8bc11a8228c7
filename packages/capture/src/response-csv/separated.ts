import { readCsv, type Cell, type CsvRow, type Outcome } from '@curvewright/board';

const comment = /^\s*(#|\*|\/\/)/;

/**
 * The rows of a table whose cells have `,`, `;` or a tab between them, whichever the first line that is no comment has most of. Lines that begin with `#`,
 * `*` or `//` are comments, which rows and places count all the same.
 */
export function separatedRows(text: string, file: string): Outcome<readonly CsvRow[]> {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  // The reader of comma-separated text looks for the separator in its first line.
  const skipped = lines.findIndex((line) => line.trim() !== '' && !comment.test(line));
  if (skipped < 0) return { ok: true, value: [] };
  const first = lines[skipped] ?? '';
  const count = (mark: string): number => first.split(mark).length;
  const isTabbed = count('\t') > 1 && count('\t') >= Math.max(count(','), count(';'));
  const kept = lines.slice(skipped).map((line) => {
    if (comment.test(line)) return '';
    // A semicolon is as wide as a tab, so that the places stay.
    return isTabbed ? line.replaceAll(';', ',').replaceAll('\t', ';') : line;
  });
  const read = readCsv(kept.join('\n'), file);
  if (!read.ok) {
    const moved = read.diagnostics.map((each) => ({ ...each, place: below(each.place, skipped) }));
    return { ok: false, diagnostics: moved };
  }
  const rows = read.value.rows.map(({ number, place, cells }) => ({
    number: number + skipped,
    place: below(place, skipped),
    cells: cells.map((cell) => ({ ...cell, place: below(cell.place, skipped) })),
  }));
  return { ok: true, value: rows };
}

function below(place: Cell['place'], lines: number): Cell['place'] {
  return { ...place, line: place.line + lines };
}
