import type { Level } from '@curvewright/verify';
import { markOf } from '../ink.ts';
import { el, raw, type Content, type Html } from './html.ts';
import type { ProofInput } from './proof-content.ts';

/** A column of a table: its head, and how its cells stand. */
export interface SheetColumn {
  readonly head: Content;
  readonly class?: string;
  /** What stands over it and its neighbours of the same group. */
  readonly group?: string;
  /** Its cells name their rows. */
  readonly names?: true;
}

/** A table cell; `figure` is the name under which two sheets compare it. */
export interface SheetCell {
  readonly text: Content;
  readonly figure?: string;
}

export function section(title: string, ...content: readonly Content[]): Html {
  return el('section', {}, el('h2', {}, title), content);
}

/** A table that scrolls by itself on a narrow screen; its label is for whoever does not see it. */
export function sheetTable(
  { label, caption }: { readonly label: string; readonly caption?: string },
  columns: readonly SheetColumn[],
  rows: readonly (readonly SheetCell[])[],
): Html {
  const cell = ({ text, figure }: SheetCell, n: number): Html => {
    const { class: standing, names } = columns[n] ?? {};
    const attributes = { class: standing, 'data-figure': figure };
    return names === true ? el('th', { scope: 'row', ...attributes }, text) : el('td', attributes, text);
  };
  const heads = columns.map(({ head, class: standing }) =>
    head === '' ? el('td', { class: standing }) : el('th', { scope: 'col', class: standing }, head),
  );
  return el(
    'section',
    { class: 'wide', tabindex: 0, 'aria-label': label },
    el(
      'table',
      {},
      raw('\n'),
      caption === undefined ? '' : el('caption', {}, caption),
      el('thead', {}, groupRow(columns), el('tr', {}, heads)),
      el(
        'tbody',
        {},
        rows.map((cells) => el('tr', {}, cells.map(cell))),
      ),
    ),
  );
}

/** Heads over several columns; nothing where no column has one. */
function groupRow(columns: readonly SheetColumn[]): Content {
  if (columns.every(({ group }) => group === undefined)) return '';
  const runs: { group: string | undefined; span: number }[] = [];
  for (const { group } of columns) {
    const last = runs.at(-1);
    if (last !== undefined && last.group === group) last.span += 1;
    else runs.push({ group, span: 1 });
  }
  return el(
    'tr',
    {},
    runs.map(({ group, span }) =>
      group === undefined
        ? el('td', { colspan: span })
        : el('th', { scope: 'colgroup', colspan: span, class: 'over' }, group),
    ),
  );
}

/** `▲ look`, told apart without colour. */
export function levelMark(level: Level, figure?: string): Html {
  const colour = level === 'not measured' ? 'muted' : level;
  return el('span', { class: `level ${colour}`, 'data-figure': figure }, `${markOf[level]} ${level}`);
}

export function bullets(items: readonly Content[], standing?: string): Html {
  return el(
    'ul',
    { class: standing },
    items.map((item) => el('li', {}, item)),
  );
}

/** The files that a document follows from, to be compared with what lies there later. */
export function inputTable(inputs: readonly ProofInput[]): Html {
  const heads = [
    ['file', undefined],
    ['what', undefined],
    ['bytes', 'number'],
    ['SHA-256', undefined],
  ] as const;
  const row = ({ role, name, bytes, sha256 }: ProofInput): Html =>
    el(
      'tr',
      { 'data-input': role, 'data-file': name, 'data-sha256': sha256 },
      el('th', { scope: 'row' }, name),
      el('td', {}, role),
      el('td', { class: 'number' }, String(bytes)),
      el('td', { class: 'hash' }, sha256),
    );
  return el(
    'table',
    {},
    raw('\n'),
    el(
      'thead',
      {},
      el(
        'tr',
        {},
        heads.map(([head, standing]) => el('th', { scope: 'col', class: standing }, head)),
      ),
    ),
    el('tbody', {}, inputs.map(row)),
  );
}
