import type { Shop } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import type { PurchaseLine, ReworkSheet, SheetRow } from '@curvewright/verify';
import { checkWords, money } from '../sheet/sheet-csv.ts';
import { el, type Content, type Html } from './html.ts';
import { leftFacts } from './part-facts.ts';
import type { ProofInput } from './proof-content.ts';
import { masthead, sheetDocument } from './sheet-document.ts';
import { bullets, inputTable, section, sheetTable } from './sheet-parts.ts';

interface ReworkContent {
  readonly version: string;
  readonly shop: Shop | null;
  readonly sheet: ReworkSheet;
  readonly inputs: readonly ProofInput[];
}

/** The sheet that lies beside the iron as one HTML file: position by position with room for initials. */
export function reworkDocument({ version, shop, sheet, inputs }: ReworkContent): string {
  const { title, board, unit, date, technician, complaint } = sheet;
  const about = Object.entries({ unit: unit.model, serial: unit.serial, date, technician }).flatMap(([name, text]) =>
    text === undefined || text === null ? [] : [[name, text] as const],
  );
  const running = [title, ...about.map(([, text]) => text)].join(' · ');
  return sheetDocument(
    {
      kind: 'rework',
      title: `${title}: rework sheet`,
      running: [shop?.name ?? 'Curvewright', running],
      paper: shop?.paper,
    },
    [
      masthead({ title, board, about, complaint }, 'Rework sheet', shop),
      section('Before the board is touched', bullets(sheet.cautions)),
      section('Position by position', workTable(sheet)),
      leftSection(sheet),
      listSection('Before the lid goes on', sheet.reminders),
      listSection('Photos', sheet.photos),
      purchaseSection(sheet),
      section(
        'Where it comes from',
        inputTable(inputs),
        el('p', { class: 'small' }, `Computed by Curvewright ${version}; nothing was measured.`),
      ),
    ],
  );
}

const actionWords: Readonly<Record<SheetRow['action'], string>> = {
  fit: 'fit',
  'leave empty': 'leave empty',
  'put back': 'put back',
  mend: 'mend, leave in',
  add: 'new:',
};

function workTable({ rows, meterOhms }: ReworkSheet): Html {
  if (rows.length === 0) return el('p', {}, 'The job fits nothing and mends nothing.');
  const meter = printQuantity(meterOhms, 'Ω');
  return sheetTable(
    { label: 'Work', caption: `Voltages as a meter of ${meter} will read them to gnd, computed for the rebuilt board` },
    [
      { head: 'position', names: true, class: 'refs' },
      { head: 'do' },
      { head: 'drawn; pulled' },
      { head: 'mind' },
      { head: 'read' },
      { head: 'done', class: 'initials' },
    ],
    rows.map(({ ref, action, fitted, drawn, pulled, why, marks, mind, checks, photos }) => [
      { text: ref },
      {
        text: lines([
          `${actionWords[action]}${action === 'leave empty' ? '' : ` ${fitted}`}`,
          ...(why === null ? [] : [`why: ${why}`]),
        ]),
      },
      { text: lines([drawn ?? '–', ...(pulled === null ? [] : [`pulled: ${pulled}`]), ...photos]) },
      { text: lines([...marks, ...mind.map((each) => `▲ ${each}`)]) },
      { text: lines(checks.map(checkWords)) },
      { text: '' },
    ]),
  );
}

function lines(texts: readonly string[]): Content {
  return texts.map((text, n) => (n === 0 ? text : [el('br'), text]));
}

function leftSection(sheet: ReworkSheet): Content {
  const left = leftFacts(sheet);
  const { untouched } = sheet;
  return section(
    'Not replaced, and why',
    bullets(
      left.map(({ refs, what, pulled, why }) => {
        const read = pulled === null ? '' : `, read ${pulled}`;
        return `${refs.join(' ')}: ${what}${read}: ${why ?? 'no reason given'}`;
      }),
    ),
    el('p', { class: 'small' }, `${untouched} other positions: the job does not speak of them.`),
  );
}

function listSection(title: string, items: readonly string[]): Content {
  return items.length === 0 ? '' : section(title, bullets(items, 'check'));
}

function purchaseSection({ purchase, purchaseTotal }: ReworkSheet): Content {
  if (purchase.length === 0) return '';
  const row = ({ stock, what, refs, quantity, inDrawer, toBuy, price, total }: PurchaseLine): readonly string[] => [
    ...[
      stock ?? '–',
      what,
      refs.join(' '),
      String(quantity),
      inDrawer === null ? '–' : String(inDrawer),
      String(toBuy),
    ],
    ...[money(price), money(total)],
  ];
  const heads = ['stock', 'what', 'for', 'pieces', 'has', 'to buy', 'price', 'total'];
  return section(
    'What it takes',
    sheetTable(
      { label: 'Purchase' },
      heads.map((head, n) => (n === 0 ? { head, names: true } : n < 3 ? { head } : { head, class: 'number' })),
      [...purchase.map(row), ['total', '', '', '', '', '', '', money(purchaseTotal)]].map((cells) =>
        cells.map((text) => ({ text })),
      ),
    ),
  );
}
