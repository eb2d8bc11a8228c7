import type { z } from 'zod';
import type { Diagnostic, DiagnosticCode, Outcome } from './diagnostics.ts';
import { readYaml, type Path, type PlaceOf } from './read-yaml.ts';
import { shown, type Field } from './schema/fields.ts';

/** What a file says, and where it says it. */
export interface FileContent<T> {
  readonly value: T;
  readonly placeOf: PlaceOf;
}

/** Reads the text of a YAML file by a schema; every fault found is reported, in the order of the file. */
export function readAs<T>(schema: Field<T>, text: string, file: string): Outcome<FileContent<T>> {
  const { value, placeOf, diagnostics } = readYaml(text, file);
  if (value === undefined) return { ok: false, diagnostics: inFileOrder(diagnostics) };
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    const message = 'the file has no keys; write KEY: VALUE, one a line';
    return { ok: false, diagnostics: [{ code: 'not-a-mapping', place: placeOf([], 'value'), message }] };
  }
  const outcome = schema.safeParse(value);
  const faults = outcome.success ? [] : outcome.error.issues.flatMap((issue) => faultsOf(issue, value, placeOf));
  if (!outcome.success || diagnostics.length > 0)
    return { ok: false, diagnostics: inFileOrder([...diagnostics, ...faults]) };
  return { ok: true, value: { value: outcome.data, placeOf } };
}

/** Sorted by line and column. */
export function inFileOrder(diagnostics: readonly Diagnostic[]): readonly Diagnostic[] {
  return [...diagnostics].sort((a, b) => a.place.line - b.place.line || a.place.column - b.place.column);
}

function faultsOf(issue: z.core.$ZodIssue, root: object, placeOf: PlaceOf): Diagnostic[] {
  const { path } = issue;
  const fault = (code: DiagnosticCode, at: Path, of: 'key' | 'value', message: string): Diagnostic => {
    const label = labelOf(at);
    // A message is either a sentence about the key or one that stands by itself.
    const joint = label === '' || /^(is|needs|has) /.test(message) ? ' ' : ': ';
    return { code, place: placeOf(at, of), message: `${label}${joint}${message}`.trim() };
  };

  switch (issue.code) {
    case 'unrecognized_keys': {
      const messages = issue.message.split('\n');
      return issue.keys.map((name, index) => fault('unknown-key', [...path, name], 'key', messages[index] ?? ''));
    }
    case 'invalid_key':
      return issue.issues.map((inner) => fault(codeOf(inner), path, 'key', inner.message));
    default: {
      if (!has(root, path)) {
        // A field that knows better than its example what to write has said so itself.
        if (issue.code === 'custom' && issue.message.includes(';'))
          return [fault('missing-key', path, 'value', issue.message)];
        const example: unknown = issue.code === 'custom' ? issue.params?.example : issue.message.split('; write ')[1];
        const offer = typeof example === 'string' ? `; write ${String(path.at(-1))}: ${example}` : '';
        return [fault('missing-key', path, 'value', `is missing${offer}`)];
      }
      return [fault(codeOf(issue), path, 'value', issue.message)];
    }
  }
}

function codeOf(issue: z.core.$ZodIssue): DiagnosticCode {
  const code = issue.code === 'custom' ? (issue.params?.code as DiagnosticCode | undefined) : undefined;
  return code ?? 'wrong-form';
}

function has(root: unknown, path: Path): boolean {
  let value = root;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return false;
    value = (value as Record<PropertyKey, unknown>)[step];
  }
  return true;
}

/** Tables whose entries speak for themselves: `C101 value`, not `parts C101 value`. */
const tables: readonly PropertyKey[] = ['parts', 'types', 'cartridges', 'positions', 'added'];

function labelOf(path: Path): string {
  const steps = path.length > 1 && tables.includes(path[0] ?? '') ? path.slice(1) : path;
  return steps.map((step) => (typeof step === 'number' ? `item ${step + 1}` : shown(String(step)))).join(' ');
}
