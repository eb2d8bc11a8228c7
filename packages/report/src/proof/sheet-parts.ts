import type { Shop } from '@curvewright/board';
import type { Level } from '@curvewright/verify';
import { markOf } from '../ink.ts';
import { el, raw, type Content, type Html } from './html.ts';
import type { ProofInput } from './proof-content.ts';
import { sheetStyle } from './sheet-style.ts';

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

interface SheetDocument {
  /** `proof`, `rework`. */
  readonly kind: string;
  readonly title: string;
  /** Left and right in the head of every page. */
  readonly running: readonly [left: string, right: string];
  readonly paper: Shop['paper'];
}

/** A whole document: no script, no other file, nothing from a network. */
export function sheetDocument({ kind, title, running, paper }: SheetDocument, content: readonly Content[]): string {
  const [left, right] = running;
  const head = el(
    'head',
    {},
    raw('\n'),
    el('meta', { charset: 'utf-8' }),
    el('meta', { name: 'viewport', content: 'width=device-width, initial-scale=1' }),
    el('meta', {
      'http-equiv': 'Content-Security-Policy',
      content: "default-src 'none'; style-src 'unsafe-inline'",
    }),
    el('meta', { name: 'generator', content: `Curvewright ${kind}` }),
    el('title', {}, title),
    el('style', {}, raw(sheetStyle(paper ?? 'A4'))),
  );
  const body = el(
    'body',
    {},
    raw('\n'),
    el('header', { class: 'running' }, el('div', {}, el('span', {}, left), ' ', el('span', {}, right))),
    el('main', {}, raw('\n'), content),
  );
  return `<!DOCTYPE html>\n${el('html', { lang: 'en' }, raw('\n'), head, body).html}`;
}

/** What stands at the top of the first page: whose unit, and whose work. */
export function masthead(
  {
    title,
    board,
    about,
    complaint,
  }: { title: string; board: string; about: readonly (readonly [string, string])[]; complaint: string | null },
  kind: string,
  shop: Shop | null,
): Html {
  const pairs: readonly (readonly [string, string])[] = [
    ...about,
    ['board', board],
    ...(complaint === null ? [] : [['complaint', complaint] as const]),
  ];
  return el(
    'div',
    { class: 'masthead' },
    el('div', {}, el('h1', {}, title), el('p', { class: 'muted' }, kind)),
    shopWords(shop),
    el(
      'dl',
      { class: 'about' },
      pairs.map(([name, text]) => el('div', {}, el('dt', {}, name), el('dd', {}, text))),
    ),
  );
}

function shopWords(shop: Shop | null): Html {
  if (shop === null) return el('div', { class: 'shop' });
  const { name, address = [], phone, mail } = shop;
  const lines = [address.join(', '), [phone, mail].flatMap((each) => each ?? []).join(' · ')].filter(
    (line) => line !== '',
  );
  return el(
    'div',
    { class: 'shop' },
    el('strong', {}, name),
    lines.map((line) => [el('br'), line]),
  );
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
