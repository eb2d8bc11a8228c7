import { existsSync } from 'node:fs';
import { dirname } from 'node:path';
import {
  readDrawer,
  readTypes,
  type Diagnostic,
  type Outcome,
  type PartType,
  type StockPart,
} from '@curvewright/board';
import { readText } from './files.ts';
import { nearestFile } from './nearest-file.ts';

/** What a drawer is called where none is named. */
const usualName = 'drawer.csv';

/** A drawer with the types that are kept beside it. */
export interface OpenDrawer {
  readonly file: string;
  readonly stock: readonly StockPart[];
  readonly types: Readonly<Record<string, PartType>>;
  /** What could not be read and was left out: rows, or the types. */
  readonly leftOut: readonly Diagnostic[];
}

/** Reads the drawer that is named, or the nearest `drawer.csv` in the job's folder or one above it; types stand in `drawer.types.yaml` beside it. */
export function openDrawer(named: string | undefined, job: string): Outcome<OpenDrawer> {
  const file = named ?? nearestFile(dirname(job), usualName);
  if (file === null) {
    const message = `no ${usualName} lies beside the job or in a folder above it; write one, or name yours with --drawer`;
    return { ok: false, diagnostics: [{ code: 'unreadable-file', place: { file: job, line: 1, column: 1 }, message }] };
  }
  const text = readText(file);
  if (!text.ok) return text;
  const drawer = readDrawer(text.value, file);
  if (!drawer.ok) return drawer;
  const { stock, faults } = drawer.value;
  const types = typesBeside(file);
  return types.ok
    ? { ok: true, value: { file, stock, types: types.value, leftOut: faults } }
    : { ok: true, value: { file, stock, types: {}, leftOut: [...faults, ...types.diagnostics] } };
}

function typesBeside(drawer: string): Outcome<Readonly<Record<string, PartType>>> {
  const file = drawer.replace(/(\.csv)?$/i, '.types.yaml');
  if (!existsSync(file)) return { ok: true, value: {} };
  const text = readText(file);
  return text.ok ? readTypes(text.value, file) : text;
}
