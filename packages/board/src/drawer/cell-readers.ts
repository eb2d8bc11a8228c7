import { readQuantity, readTolerance, type Unit } from '@curvewright/quantity';
import type { DiagnosticCode } from '../diagnostics.ts';
import { suggestion } from '../nearest.ts';
import { shown } from '../schema/fields.ts';

/** What a cell reads as, or what is wrong with it; what to write. */
export type CellReading<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly code: DiagnosticCode; readonly message: string };

/** Readers that remember: a drawer of thousands of rows has some dozens of different texts in most columns. */
export interface CellReaders {
  quantity(text: string, unit: Unit): CellReading<number>;
  tolerance(text: string): CellReading<{ readonly minus: number; readonly plus: number }>;
  /** A number without a unit, 0 or above. A table between semicolons writes its decimals with a comma, as such spreadsheets do. */
  number(text: string, example: string): CellReading<number>;
  word<T extends string>(text: string, words: readonly T[]): CellReading<T>;
}

export function cellReaders(separator: ',' | ';'): CellReaders {
  const quantities = new Map<string, CellReading<number>>();
  const tolerances = new Map<string, CellReading<{ minus: number; plus: number }>>();
  return {
    quantity: (text, unit) => kept(quantities, `${unit} ${text}`, () => quantityIn(text, unit)),
    tolerance: (text) =>
      kept(tolerances, text, () => {
        const reading = readTolerance(text);
        return reading.ok ? reading : { ok: false, code: reading.fault, message: reading.message };
      }),
    number(text, example) {
      const plain = separator === ';' ? text.replace(',', '.') : text;
      if (/^\d*,\d+$/.test(plain))
        return { ok: false, code: 'comma-decimal', message: `${text} has a comma; write ${text.replace(',', '.')}` };
      if (!/^(\d+\.?\d*|\.\d+)$/.test(plain))
        return { ok: false, code: 'wrong-form', message: `${shown(text)} is no number; write ${example}` };
      return { ok: true, value: Number(plain) };
    },
    word(text, words) {
      const found = words.find((word) => word === text.toLowerCase());
      if (found !== undefined) return { ok: true, value: found };
      return {
        ok: false,
        code: 'wrong-form',
        message: `${shown(text)} is not known; ${suggestion(text.toLowerCase(), words)}`,
      };
    },
  };
}

function quantityIn(text: string, unit: Unit): CellReading<number> {
  const reading = readQuantity(text, unit);
  if (!reading.ok) return { ok: false, code: reading.fault, message: reading.message };
  if (reading.value > 0 || (reading.value === 0 && unit === 'Ω')) return reading;
  return { ok: false, code: 'out-of-range', message: `${shown(text)} cannot be; write a value above 0` };
}

function kept<T>(known: Map<string, CellReading<T>>, key: string, read: () => CellReading<T>): CellReading<T> {
  const before = known.get(key);
  if (before !== undefined) return before;
  const reading = read();
  known.set(key, reading);
  return reading;
}
