import { cellsOf, oneLine, padEnd, padStart, wrap } from './cells.ts';
import { paint, type Ink } from './ink.ts';

export interface Column {
  /** `point`: numbers under one another at their decimal point. */
  readonly align: 'left' | 'right' | 'point';
  /** Cells between this column and the one before it; 2 where silent, 0 before the first. */
  readonly gap?: number;
  /** This column alone gives way, by wrapping, where the table is wider than the page. */
  readonly wraps?: boolean;
}

export type Cell = string | { readonly text: string; readonly ink: Ink };

/** Narrower than this a wrapped column reads worse than a clipped line. */
const narrowest = 12;

/** Rows as lines of at most `width` cells, trailing spaces cut. A row may be shorter than the columns. */
export function tableLines(
  columns: readonly Column[],
  rows: readonly (readonly Cell[])[],
  { width, colour }: { width: number; colour: boolean },
): readonly string[] {
  const texts = rows.map((row) => columns.map((_, c) => oneLine(textOf(row[c] ?? ''))));
  const aligned = columns.map(({ align }, c) =>
    align === 'point' ? atPoint(texts.map((row) => row[c] ?? '')) : texts.map((row) => row[c] ?? ''),
  );
  const gaps = columns.map(({ gap = 2 }, c) => (c === 0 ? 0 : gap));
  const natural = aligned.map((column) => Math.max(0, ...column.map(cellsOf)));
  const surplus = sum(natural) + sum(gaps) - width;
  const widths = natural.map((cells, c) =>
    columns[c]?.wraps && surplus > 0 ? Math.min(cells, Math.max(narrowest, cells - surplus)) : cells,
  );
  return rows.flatMap((row, r) => {
    const stacks = columns.map(({ wraps }, c) => {
      const text = aligned[c]?.[r] ?? '';
      return wraps ? wrap(text, widths[c] ?? 0) : [text];
    });
    const height = Math.max(...stacks.map(({ length }) => length));
    return Array.from({ length: height }, (_, n) => {
      let left = width;
      let line = '';
      columns.forEach(({ align }, c) => {
        const cells = Math.min(left, (gaps[c] ?? 0) + (widths[c] ?? 0));
        const gap = Math.min(cells, gaps[c] ?? 0);
        const text = stacks[c]?.[n] ?? '';
        const filled = align === 'left' ? padEnd(text, cells - gap) : padStart(text, cells - gap);
        left -= cells;
        line += ' '.repeat(gap) + paint(filled, inkIn(row[c]), colour && text !== '');
      });
      return line.trimEnd();
    });
  });
}

function textOf(cell: Cell): string {
  return typeof cell === 'string' ? cell : cell.text;
}

function inkIn(cell: Cell | undefined): Ink | undefined {
  return typeof cell === 'object' ? cell.ink : undefined;
}

/** What follows the whole digits is filled up to one width, so that the points meet when the column is set right. */
function atPoint(texts: readonly string[]): readonly string[] {
  const tails = texts.map((text) => cellsOf(tailOf(text)));
  const longest = Math.max(0, ...tails);
  return texts.map((text, n) => (/\d/.test(text) ? text + ' '.repeat(longest - (tails[n] ?? 0)) : text));
}

function tailOf(text: string): string {
  return /^[^\d]*\d+(\D.*)$/.exec(text)?.[1] ?? '';
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}
