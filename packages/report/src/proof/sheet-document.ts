import type { Shop } from '@curvewright/board';
import { el, raw, type Content, type Html } from './html.ts';
import { sheetStyle } from './sheet-style.ts';

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
