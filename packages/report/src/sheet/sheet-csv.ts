import { writeCsv } from '@curvewright/board';
import type { LeftIn, PurchaseLine, ReworkSheet, SheetRow } from '@curvewright/verify';
import { quantity } from '../numbers.ts';
import { spreadsheetCell } from './spreadsheet-cell.ts';

const sheetColumns: readonly string[] = [
  ...[
    'position',
    'twins',
    'action',
    'drawn',
    'pulled',
    'fitted',
    'why',
    'marks',
    'mind',
    'check',
    'photos',
    'initials',
  ],
];

/** A row for each position in bench order, then for what stays in; RFC 4180. */
export function sheetCsv({ rows, left }: ReworkSheet): string {
  return table(sheetColumns, [...rows.map(workRow), ...left.map(leftRow)]);
}

function workRow(row: SheetRow): readonly string[] {
  const { ref, twins, action, drawn, pulled, fitted, why, marks, mind, checks, photos } = row;
  return [
    ...[ref, twins.join(' '), action, drawn ?? '', pulled ?? '', fitted, why ?? '', marks.join('; '), mind.join('; ')],
    ...[checks.map(checkWords).join('; '), photos.join('; '), ''],
  ];
}

function leftRow({ ref, what, pulled, why, photos }: LeftIn): readonly string[] {
  return [ref, '', 'left in', what, pulled ?? '', '', why ?? '', '', '', '', photos.join('; '), ''];
}

/** `Q101.collector 3.02 V`; no meter on the bench shows what is below a millivolt. */
export function checkWords({ at, volts }: SheetRow['checks'][number]): string {
  return `${at} ${volts === null ? 'not found' : Math.abs(volts) < 1e-3 ? '0 V' : quantity(volts, 'V')}`;
}

/** What the rework takes, with the drawer's codes and prices; RFC 4180. */
export function purchaseCsv({ purchase, purchaseTotal }: ReworkSheet): string {
  const header = ['stock', 'what', 'positions', 'quantity', 'in_drawer', 'to_buy', 'price', 'total'];
  const total = ['', 'total', '', '', '', '', '', money(purchaseTotal)];
  return table(header, [...purchase.map(purchaseRow), total]);
}

function purchaseRow({
  stock,
  what,
  refs,
  quantity: pieces,
  inDrawer,
  toBuy,
  price,
  total,
}: PurchaseLine): readonly string[] {
  return [
    ...[stock ?? '', what, refs.join(' '), String(pieces), inDrawer === null ? '' : String(inDrawer), String(toBuy)],
    ...[money(price), money(total)],
  ];
}

/** With two places, as prices are. */
export function money(amount: number | null): string {
  return amount === null ? '' : amount.toFixed(2);
}

function table(header: readonly string[], rows: readonly (readonly string[])[]): string {
  return writeCsv(
    header,
    rows.map((row) => row.map(spreadsheetCell)),
  );
}
