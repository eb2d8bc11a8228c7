import { capacitorBuilds, resistorBuilds, type JobPosition, type Part, type PartType } from '@curvewright/board';
import { readQuantity, type Unit } from '@curvewright/quantity';
import type { SheetField } from '../contract/sheet.ts';
import { partValue, type PartValue } from './part-value.ts';
import { preferredSteps } from './preferred-steps.ts';

/** A position with what its job writes for it, texts as they stand in the file. */
export interface WrittenRow {
  readonly position: JobPosition;
  readonly written: unknown;
  readonly types: Readonly<Record<string, PartType>>;
}

/** What can be edited of a position where it stands; nothing of the fitted part where that is several parts or none. */
export function sheetFields(row: WrittenRow): readonly SheetField[] {
  const { position, written } = row;
  const fit = at(written, ['fit']);
  const isOnePart = fit === undefined || (typeof fit === 'object' && fit !== null && !isSeveral(fit));
  return [
    ...(isOnePart ? fitFields(row) : []),
    ...pulledFields(position, written),
    field(written, 'why', { unit: null, standing: null }),
  ];
}

function isSeveral(fit: object): boolean {
  return Array.isArray(fit) || 'parallel' in fit;
}

interface FieldForm {
  readonly unit: Unit | null;
  /** SI, where the file is silent. */
  readonly standing: number | null;
  readonly choices?: readonly string[];
  readonly steps?: PartValue | null;
}

function fitFields({ position: { drawn, fitted }, written, types }: WrittenRow): readonly SheetField[] {
  const steps = partValue(fitted?.parts[0] ?? drawn);
  const rating = drawn.kind === 'capacitor' ? 'V' : 'W';
  const value = steps === null ? [] : [field(written, 'fit.value', { unit: steps.unit, standing: steps.value, steps })];
  const rated = field(written, 'fit.rated', { unit: rating, standing: null });
  const build = (choices: readonly string[]): SheetField =>
    field(written, 'fit.build', { unit: null, standing: null, choices });
  switch (drawn.kind) {
    case 'resistor':
      return [...value, build(resistorBuilds), rated];
    case 'capacitor':
      return [...value, build(capacitorBuilds), rated];
    case 'trimmer':
      return [...value, rated];
    case 'inductor':
      return value;
    case 'typed': {
      const { type } = drawn;
      const choices = Object.keys(types).filter((name) => types[name]?.kind === type.kind);
      return [field(written, 'fit.type', { unit: null, standing: null, choices })];
    }
    case 'switch':
      return [];
  }
}

function pulledFields({ drawn, pulled }: JobPosition, written: unknown): readonly SheetField[] {
  const old: Part | undefined = pulled?.parts[0];
  const value = partValue(old ?? drawn);
  if (value === null) return [];
  const read = field(written, 'pulled.value', { unit: value.unit, standing: old === undefined ? null : value.value });
  if (drawn.kind !== 'capacitor') return [read];
  const aged = old?.kind === 'capacitor' ? old : null;
  const esr = typeof at(written, ['pulled', 'esr']) === 'object' ? 'pulled.esr.value' : 'pulled.esr';
  return [
    read,
    field(written, esr, { unit: 'Ω', standing: aged?.esr ?? null }),
    leakageField(written, aged?.leakage ?? null),
  ];
}

/** A resistance, or as the file may also write it a current at the rated volts. */
function leakageField(written: unknown, standing: number | null): SheetField {
  const ohms = field(written, 'pulled.leakage', { unit: 'Ω', standing });
  const amps = ohms.written === null ? null : readQuantity(ohms.written, 'A');
  return amps?.ok ? { ...ohms, value: amps.value, unit: 'A' } : ohms;
}

function field(root: unknown, path: SheetField['path'], { unit, standing, choices, steps }: FieldForm): SheetField {
  const text = at(root, path.split('.'));
  const written = typeof text === 'string' ? text : null;
  const reading = unit === null || written === null ? null : readQuantity(written, unit);
  const value = reading?.ok ? reading.value : standing;
  return { path, written, value, unit, choices: choices ?? null, ...preferredSteps(value, steps ?? null) };
}

function at(root: unknown, path: readonly string[]): unknown {
  let value = root;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Readonly<Record<string, unknown>>)[step];
  }
  return value;
}
