import { codeName, versionName } from './compare-sheets.ts';
import { el, type Html } from './html.ts';
import type { ProofFacts } from './proof-facts.ts';
import {
  bullets,
  inputTable,
  levelMark,
  section,
  sheetTable,
  type SheetCell,
  type SheetColumn,
} from './sheet-parts.ts';

/** What the stage does in each state, channel beside channel. */
export function figureSection(facts: ProofFacts): Html {
  const { channels, figures, measured, measuring } = facts;
  const shown = [...facts.states, ...(measured === null ? [] : ['measured'])];
  const columns: readonly SheetColumn[] = [
    { head: 'what it does', names: true, class: 'refs' },
    ...shown.flatMap((state) =>
      channels.map((channel, c): SheetColumn => ({
        ...(channels.length > 1 ? { group: state, head: channel } : { head: state }),
        class: c === 0 ? 'number first' : 'number',
      })),
    ),
    { head: '' },
    { head: 'verdict' },
    { head: 'how it is computed', class: 'rest muted' },
  ];
  const rows = figures.map(({ label, unit, values, level, condition }) => [
    { text: label },
    ...[...values, ...(measured === null ? [] : [measured[label] ?? channels.map(() => '')])].flatMap((texts, s) =>
      texts.map((text, c): SheetCell => ({ text, figure: [shown[s], channels[c], label].join(' ') })),
    ),
    { text: unit },
    level === null ? { text: '' } : { text: levelMark(level, `verdict on ${label}`) },
    { text: condition },
  ]);
  const words = measuring.length === 0 ? '' : el('p', { class: 'small' }, measuring.join(' '));
  return section(`As ${listed(shown)}`, sheetTable({ label: 'Figures' }, columns, rows), words);
}

function listed(states: readonly string[]): string {
  return states.length < 2 ? states.join('') : `${states.slice(0, -1).join(', ')} and ${states.at(-1) ?? ''}`;
}

export function partSection({ parts, left }: ProofFacts): Html {
  const columns: readonly SheetColumn[] = [
    { head: 'position', names: true, class: 'refs' },
    { head: 'drawn', class: 'drawn' },
    { head: 'pulled, as read', class: 'pulled' },
    { head: 'fitted', class: 'fitted' },
    { head: 'why' },
  ];
  const rows = [
    ...parts.map(({ refs, action, drawn, pulled, fitted, why }) =>
      named(refs, [
        drawn ?? '–',
        pulled ?? '–',
        action === 'fit' ? fitted : action === 'leave empty' ? action : `${action}: ${fitted}`,
        why ?? '',
      ]),
    ),
    ...left.map(({ refs, what, pulled, why }) => named(refs, [what, pulled ?? '–', 'left in', why ?? ''])),
  ];
  const table =
    rows.length === 0 ? el('p', {}, 'The job names no part.') : sheetTable({ label: 'Parts' }, columns, rows);
  return el('div', { class: 'whole' }, section('Parts', table));
}

const partCells = ['drawn', 'pulled', 'fitted', 'why'];

function named(refs: readonly string[], texts: readonly string[]): readonly SheetCell[] {
  const name = refs.join(' ');
  return [{ text: name }, ...texts.map((text, n) => ({ text, figure: `${name} ${partCells[n] ?? ''}` }))];
}

export function findingSection({ findings }: ProofFacts): Html {
  const open = findings.map(({ level, head, cause, next }) =>
    el(
      'p',
      { class: 'finding' },
      levelMark(level),
      ` ${head}. ${cause} `,
      next.map((step) => `Next: ${step} `),
    ),
  );
  return section(
    'Findings',
    open.length === 0 ? el('p', {}, 'Every figure of the rebuilt board is inside its limits.') : open,
  );
}

/** What was off before the work, to stand beside the figure; null where nothing was, or nobody says. */
export function foundSection({ found }: ProofFacts): Html | null {
  if (found.length === 0) return null;
  return section(
    'When it came in',
    bullets(
      found.map(({ level, words }) => [levelMark(level), ` ${words}`]),
      'plain small',
    ),
  );
}

export function openSection({ notMeasured, assumptions }: ProofFacts): Html {
  return section(
    'What was not measured',
    bullets(notMeasured),
    assumptions.map((text) => el('p', { class: 'small' }, text)),
  );
}

export function scopeSection({ scope, safety, shop }: ProofFacts): Html {
  return section(
    'Safety and scope',
    scope.map((text) => el('p', {}, text)),
    el('p', {}, `For whoever opens it next: ${safety.join(' ')}`),
    shop?.note === undefined ? '' : el('p', {}, shop.note),
  );
}

/** `code`: of the facts that are printed. */
export function originSection({ inputs, version }: ProofFacts, code: string): Html {
  return section(
    'Where it comes from',
    inputTable(inputs),
    el(
      'p',
      { class: 'small' },
      'Computed by Curvewright ',
      el('span', { 'data-figure': versionName }, version),
      '. Check code of all that is printed here, the figure aside: ',
      el('span', { class: 'hash', 'data-figure': codeName }, code),
      '. proof --verify with this file computes it all anew from the files named above.',
    ),
  );
}
