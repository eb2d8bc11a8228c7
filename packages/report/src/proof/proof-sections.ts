import { codeName, versionName } from './compare-sheets.ts';
import { el, type Content, type Html } from './html.ts';
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
export function figureSection({ states, channels, figures }: ProofFacts): Html {
  const several = channels.length > 1;
  const columns: readonly SheetColumn[] = [
    { head: 'what it does', names: true },
    ...states.flatMap((state) =>
      channels.map((channel, c): SheetColumn => ({
        head: several ? `${state} ${channel}` : state,
        class: c === 0 ? 'number first' : 'number',
      })),
    ),
    { head: '' },
    { head: 'rebuilt' },
    { head: 'how it is computed', class: 'muted' },
  ];
  const rows = figures.map(({ label, unit, values, level, condition }) => [
    { text: label },
    ...values.flatMap((ofState, s) =>
      ofState.map((text, c) => ({ text, figure: [states[s], channels[c], label].join(' ') })),
    ),
    { text: unit },
    level === null ? { text: '' } : { text: levelMark(level, `verdict on ${label}`) },
    { text: condition },
  ]);
  return section('As drawn, as found, as rebuilt', sheetTable({ label: 'Figures' }, columns, rows));
}

export function partSection({ parts, left }: ProofFacts): Html {
  const columns: readonly SheetColumn[] = [
    { head: 'position', names: true, class: 'refs' },
    { head: 'drawn' },
    { head: 'pulled, as read' },
    { head: 'fitted' },
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
  return section(
    'Parts',
    rows.length === 0 ? el('p', {}, 'The job names no part.') : sheetTable({ label: 'Parts' }, columns, rows),
  );
}

const partCells = ['drawn', 'pulled', 'fitted', 'why'];

function named(refs: readonly string[], texts: readonly string[]): readonly SheetCell[] {
  const name = refs.join(' ');
  return [{ text: name }, ...texts.map((text, n) => ({ text, figure: `${name} ${partCells[n] ?? ''}` }))];
}

/** Voltages that a meter will read, and those that were read. */
export function voltageSection(facts: ProofFacts): Html {
  const { voltages, readings, meters, heard } = facts;
  const chart = sheetTable(
    { label: 'Voltages', caption: `Rebuilt, computed as a meter of ${voltages.meter} reads it to gnd, V` },
    [{ head: 'node', names: true }, ...voltages.channels.map((head): SheetColumn => ({ head, class: 'number' }))],
    voltages.rows.map(({ node, volts }) => [
      { text: node },
      ...voltages.channels.map((channel, c): SheetCell => {
        const text = volts[c];
        // A node that the channels share stands once.
        return text === undefined ? { text: '' } : { text, figure: `rebuilt ${channel} volts ${node}` };
      }),
    ]),
  );
  return section(
    'Voltages, computed and read',
    el('div', { class: 'pair' }, chart, el('div', {}, readingTable(readings, meters), heardWords(heard))),
  );
}

function readingTable(readings: ProofFacts['readings'], meters: readonly string[]): Html {
  if (readings.length === 0) return el('p', {}, 'Nothing was read.');
  const columns: readonly SheetColumn[] = [
    { head: 'reading', names: true },
    { head: 'as' },
    { head: 'computed', class: 'number' },
    { head: 'read', class: 'number' },
    { head: 'off', class: 'number' },
    { head: '' },
  ];
  const by = meters.length === 0 ? '' : ` with ${meters.join(' and ')}; computed with it in place`;
  return sheetTable(
    { label: 'Readings', caption: `Read on the bench${by}` },
    columns,
    readings.map(({ state, what, unit, predicted, read, off }) => [
      { text: what },
      { text: state },
      { text: predicted, figure: `computed ${state} ${what}` },
      { text: read, figure: `read ${state} ${what}` },
      { text: off },
      { text: unit },
    ]),
  );
}

function heardWords(heard: readonly string[]): Content {
  return heard.length === 0 ? '' : el('p', { class: 'small' }, `Heard ${heard.join('; ')}.`);
}

export function findingSection({ findings, found }: ProofFacts): Html {
  const open = findings.map(({ level, head, cause, next }) =>
    el(
      'p',
      { class: 'finding' },
      levelMark(level),
      ` ${head}. ${cause} `,
      next.map((step) => `Next: ${step} `),
    ),
  );
  const context = found.flatMap(({ level, words }, n) => [n === 0 ? '' : ' · ', levelMark(level), ` ${words}`]);
  return section(
    'Findings',
    open.length === 0 ? el('p', {}, 'Every figure of the rebuilt board is inside its limits.') : open,
    found.length === 0 ? '' : el('p', { class: 'small' }, 'When it came in: ', context),
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
