import type { CsvRow, Outcome } from '@curvewright/board';

/** Where a file's columns are, where its header does not say it: a number from 1, or the header's own words. */
export interface StatedColumns {
  readonly frequency?: number | string;
  readonly level?: number | string;
  readonly phase?: number | string;
  /** Of the level. */
  readonly unit?: 'dB' | 'linear';
}

export interface ResponseColumns {
  /** Index, and Hz for each unit. */
  readonly frequency: { readonly index: number; readonly scale: number };
  readonly level: { readonly index: number; readonly unit: 'dB' | 'linear' };
  /** Index, and degrees for each unit. */
  readonly phase: { readonly index: number; readonly scale: number } | null;
  /** The first row holds names. */
  readonly isHeader: boolean;
}

type Role = 'frequency' | 'level' | 'phase';

/** What headers call a column, units apart; `hz` and `db` name it, too. Common practice, no source. */
const names: Readonly<Record<Role, RegExp>> = {
  frequency: /\b(freq|frequency|f|k?hz)\b/,
  phase: /\b(phase|arg|deg|degrees|rad|radians)\b|°/,
  level: /\b(level|gain|magnitude|mag|amplitude|response|spl|dbv?|dbu|dbfs|[mµu]?v|volts|ratio|linear)\b/,
};

const inOrder: readonly Role[] = ['frequency', 'level', 'phase'];

/** Finds the columns by the first row, or takes them as stated. */
export function findColumns(first: CsvRow, stated: StatedColumns): Outcome<ResponseColumns> {
  const texts = first.cells.map(({ text }) => text.toLowerCase().replaceAll('_', ' '));
  const isHeader = !/^[+\-−]?[\d.]/.test(texts[0] ?? '');
  if (!isHeader && first.cells.length > inOrder.length && stated.level === undefined) {
    return refused(first, 'more than three columns need their names; write a first row: frequency Hz, level dB');
  }
  const taken = new Set<number>();
  const found = new Map<Role, number>();
  for (const role of inOrder) {
    const asked = stated[role];
    const index = asked === undefined ? null : statedIndex(asked, texts, isHeader);
    if (asked !== undefined && index === null) {
      return refused(first, `there is no column ${asked} for the ${role}; the first row has ${shown(first)}`);
    }
    if (index === null) continue;
    found.set(role, index);
    taken.add(index);
  }
  // A phase's header often speaks of the gain's phase, so that it is sought first.
  for (const role of ['frequency', 'phase', 'level'] as const) {
    if (found.has(role)) continue;
    const index = isHeader
      ? texts.findIndex((text, n) => !taken.has(n) && names[role].test(text))
      : [...first.cells.keys()].indexOf(inOrder.indexOf(role));
    if (index < 0 || taken.has(index)) continue;
    found.set(role, index);
    taken.add(index);
  }
  const [frequency, level, phase] = inOrder.map((role) => found.get(role));
  if (frequency === undefined || level === undefined) {
    const role = frequency === undefined ? 'frequency' : 'level';
    const example = 'write a first row: frequency Hz, level dB';
    return refused(first, `no column is named as the ${role}; the first row has ${shown(first)}; ${example}`);
  }
  const value: ResponseColumns = {
    frequency: { index: frequency, scale: /\bkhz\b/.test(texts[frequency] ?? '') ? 1000 : 1 },
    level: { index: level, unit: stated.unit ?? unitOf(texts[level] ?? '') },
    phase: phase === undefined ? null : { index: phase, scale: /\brad/.test(texts[phase] ?? '') ? 180 / Math.PI : 1 },
    isHeader,
  };
  return { ok: true, value };
}

function statedIndex(asked: number | string, texts: readonly string[], isHeader: boolean): number | null {
  if (typeof asked === 'number') return asked >= 1 && asked <= texts.length ? asked - 1 : null;
  const index = isHeader ? texts.indexOf(asked.toLowerCase().replaceAll('_', ' ')) : -1;
  return index < 0 ? null : index;
}

function unitOf(header: string): 'dB' | 'linear' {
  if (/\bdb/.test(header)) return 'dB';
  return /\b([mµu]?v|volts|ratio|linear)\b/.test(header) ? 'linear' : 'dB';
}

function shown({ cells }: CsvRow): string {
  return cells.map(({ text }) => text).join(' | ');
}

function refused({ place }: CsvRow, message: string): Outcome<never> {
  return { ok: false, diagnostics: [{ code: 'wrong-form', place, message }] };
}
