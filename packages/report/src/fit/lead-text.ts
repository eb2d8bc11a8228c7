import type { LeadAnswer, LeadFit } from '@curvewright/verify';
import { cellsOf, padEnd } from '../cells.ts';

/** Cells from one lead to the next, and of the case around them. */
const step = 4;
const edge = 2;

/** The print and every case that may be in hand, side by side as far as the width allows: all from the component side, the printed flat towards the reader. */
export function leadText({ holes, typeName, cases }: LeadAnswer, width: number): readonly string[] {
  const print = blockLines('the print', { flat: 'front', standing: holes, inHoles: holes });
  const fitted = cases.map(({ front, fit }) => blockLines(cases.length > 1 ? `${typeName}, ${front}` : typeName, fit));
  const rows: (readonly string[])[][] = [];
  for (const block of [print, ...fitted]) {
    const row = rows.at(-1);
    if (row !== undefined && widthOf([...row, block]) <= width) row.push(block);
    else rows.push([block]);
  }
  return rows.flatMap((row, n) => [...(n === 0 ? [] : ['']), ...sideBySide(row)]);
}

function blockLines(
  name: string,
  { flat, standing, inHoles }: Pick<LeadFit, 'flat' | 'standing' | 'inHoles'>,
): readonly string[] {
  return [
    name,
    ...caseLines(flat, standing.length),
    spread(standing),
    ...wires(standing, inHoles),
    `${spread(inHoles)}  holes`,
  ];
}

/** Seen from above: square corners where the flat is. */
function caseLines(flat: LeadFit['flat'], leads: number): readonly string[] {
  const inside = (leads - 1) * step + 2 * edge - 1;
  const bar = '─'.repeat(inside);
  const blank = `│${' '.repeat(inside)}│`;
  return flat === 'front' ? [`╭${bar}╮`, blank, `└${bar}┘ flat`] : [`┌${bar}┐ flat`, blank, `╰${bar}╯`];
}

function spread(letters: string): string {
  return ' '.repeat(edge) + [...letters].join(' '.repeat(step - 1));
}

/** Three lines from the leads of the case down to the holes; two neighbours that change places cross. */
function wires(standing: string, inHoles: string): readonly string[] {
  const width = edge + (standing.length - 1) * step + 1;
  const lines = ['', '', ''].map(() => Array.from({ length: width }, () => ' '));
  [...standing].forEach((lead, from) => {
    const to = inHoles.indexOf(lead);
    const [start, end] = [edge + from * step, edge + to * step];
    const slope = Math.sign(end - start);
    const sign = slope > 0 ? '╲' : '╱';
    const places = slope === 0 ? [start, start, start] : [start + slope, (start + end) / 2, end - slope];
    lines.forEach((line, n) => {
      line[places[n] ?? start] = slope === 0 ? '│' : n === 1 ? '╳' : sign;
    });
  });
  return lines.map((line) => line.join(''));
}

/** Cells between two drawings. */
const gap = 4;

function widthOf(blocks: readonly (readonly string[])[]): number {
  return blocks.reduce((sum, block) => sum + cellsOfBlock(block) + gap, -gap);
}

function cellsOfBlock(block: readonly string[]): number {
  return Math.max(...block.map(cellsOf));
}

function sideBySide(blocks: readonly (readonly string[])[]): readonly string[] {
  const height = Math.max(...blocks.map(({ length }) => length));
  return Array.from({ length: height }, (_, n) =>
    blocks
      .map((block) => padEnd(block[n] ?? '', cellsOfBlock(block) + gap))
      .join('')
      .trimEnd(),
  );
}
