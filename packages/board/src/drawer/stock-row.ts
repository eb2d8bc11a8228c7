import type { Unit } from '@curvewright/quantity';
import type { Diagnostic, DiagnosticCode, Outcome, Place } from '../diagnostics.ts';
import { orderFault } from '../expand-typed.ts';
import { capacitorBuilds, resistorBuilds } from '../schema/part-schema.ts';
import { shown } from '../schema/fields.ts';
import { stated } from '../stated.ts';
import type { CellReaders, CellReading } from './cell-readers.ts';
import type { Cell } from './csv.ts';
import { stockKinds, type StockKind, type StockPart } from './stock.ts';

const valueUnits: Partial<Record<StockKind, Unit>> = { resistor: 'Ω', trimmer: 'Ω', capacitor: 'F', inductor: 'H' };

const known = [
  ...['stock', 'kind', 'build', 'type', 'value', 'tolerance', 'rated', 'esr', 'leakage', 'loss'],
  ...['pitch', 'diameter', 'height', 'case_leads', 'quantity', 'price', 'note'],
];

/** Columns that a job writes under `fit` as they stand. */
const fitColumns = ['build', 'type', 'value', 'tolerance', 'rated', 'esr', 'leakage', 'loss', 'case_leads'];
const bodyColumns = ['pitch', 'diameter', 'height'];

/** A row's cells, by column, as a part of the drawer; or every fault that the row has. */
export function stockPart(
  cells: ReadonlyMap<string, Cell>,
  { number: row, place: first }: { readonly number: number; readonly place: Place },
  readers: CellReaders,
): Outcome<StockPart> {
  const diagnostics: Diagnostic[] = [];
  const refuse = (column: string, code: DiagnosticCode, message: string): void => {
    const place = cells.get(column)?.place ?? first;
    diagnostics.push({ code, place, message: `row ${row}, ${column}: ${message}` });
  };
  const read = <T>(column: string, reader: (text: string) => CellReading<T>): T | undefined => {
    const text = cells.get(column)?.text;
    if (text === undefined) return undefined;
    const reading = reader(text);
    if (reading.ok) return reading.value;
    refuse(column, reading.code, reading.message);
    return undefined;
  };
  const quantity = (column: string, unit: Unit): number | undefined =>
    read(column, (text) => readers.quantity(text, unit));
  const needs = (column: string, example: string): void => {
    if (!cells.has(column)) refuse(column, 'missing-key', `is empty; write ${example}`);
  };

  needs('stock', 'a code of its own');
  needs('kind', stockKinds.join(', '));
  const kind = read('kind', (text) => readers.word(text, stockKinds));
  if (kind === undefined) return { ok: false, diagnostics };
  const unit = valueUnits[kind];
  if (unit === undefined) needs('type', 'the name of its type, as under types: of a board or job');
  else needs('value', unit === 'F' ? '0.68 µF' : unit === 'Ω' ? '4.7 kΩ' : '10 mH');
  const builds = kind === 'capacitor' ? capacitorBuilds : resistorBuilds;
  const rated =
    kind === 'capacitor' ? quantity('rated', 'V') : kind === 'resistor' ? quantity('rated', 'W') : undefined;
  const quantityHeld = read('quantity', (text) => readers.number(text, 'a whole number of pieces'));
  if (quantityHeld !== undefined && !Number.isInteger(quantityHeld))
    refuse('quantity', 'out-of-range', `${quantityHeld} pieces cannot be; write a whole number`);
  const part: StockPart = {
    stock: cells.get('stock')?.text ?? '',
    kind,
    ...stated({
      build: unit === undefined ? undefined : read('build', (text) => readers.word(text, builds)),
      type: unit === undefined ? cells.get('type')?.text : undefined,
      value: unit === undefined ? undefined : quantity('value', unit),
      tolerance: read('tolerance', (text) => readers.tolerance(text)),
      rated,
      esr: quantity('esr', 'Ω'),
      leakage: read('leakage', (text) => leakageIn(text, rated, readers)),
      loss: read('loss', (text) => readers.number(text, '0.04')),
      caseLeads: read('case_leads', (text) => caseLeadsIn(text, kind)),
      note: cells.get('note')?.text,
    }),
    body: stated(Object.fromEntries(bodyColumns.map((name) => [name, quantity(name, 'm')]))),
    quantity: quantityHeld ?? null,
    price: read('price', (text) => readers.number(text, '0.14')) ?? null,
    written: writtenIn(cells),
    others: Object.fromEntries(
      [...cells].filter(([name]) => !known.includes(name)).map(([name, cell]) => [name, cell.text]),
    ),
    place: first,
  };
  return diagnostics.length > 0 ? { ok: false, diagnostics } : { ok: true, value: part };
}

/** Ω, from a resistance or from a current at the rated volts. */
function leakageIn(text: string, rated: number | undefined, readers: CellReaders): CellReading<number> {
  const ohms = readers.quantity(text, 'Ω');
  if (ohms.ok || ohms.code !== 'wrong-unit') return ohms;
  const amps = readers.quantity(text, 'A');
  if (!amps.ok) return amps;
  if (rated !== undefined) return { ok: true, value: rated / amps.value };
  return {
    ok: false,
    code: 'missing-key',
    message: 'a leakage current is one at the rated volts; write rated, or leakage in Ω',
  };
}

/** An order seen from the front; other views are written with the type. */
function caseLeadsIn(text: string, kind: StockKind): CellReading<NonNullable<StockPart['caseLeads']>> {
  if (kind === 'resistor' || kind === 'capacitor' || kind === 'inductor' || kind === 'trimmer')
    return { ok: false, code: 'lead-order', message: `${shown(text)}: a ${kind} has no lead order; leave it empty` };
  const fault = orderFault(kind, text);
  if (fault !== null) return { ok: false, code: 'lead-order', message: fault };
  return { ok: true, value: { order: text, view: 'front' } };
}

function writtenIn(cells: ReadonlyMap<string, Cell>): StockPart['written'] {
  const texts = (names: readonly string[]): Record<string, string> =>
    Object.fromEntries(
      names.flatMap((name) => {
        const text = cells.get(name)?.text;
        return text === undefined ? [] : [[name, text] as const];
      }),
    );
  const body = texts(bodyColumns);
  return { ...texts(fitColumns), ...(Object.keys(body).length > 0 ? { body } : {}) };
}
