import { z } from 'zod';
import type { DiagnosticCode } from '../diagnostics.ts';

/**
 * The vocabulary every file format is written in. A field reads text as it stands in the file (the YAML reader hands
 * every scalar on as text) and carries its fault as a custom issue, `params.code` being the diagnostic code.
 */
export type Field<T> = z.ZodType<T, unknown>;

/** What a person is told about a field, in messages and in JSON Schema. */
export interface Told {
  readonly description: string;
  /** Texts as they may stand in the file; the first one is offered where the key is missing. */
  readonly examples?: readonly string[];
}

/** What may be demanded of a number: `positive` is above 0, `notNegative` 0 or above. */
export interface Sign {
  readonly positive?: true;
  readonly notNegative?: true;
}

export interface FieldFault {
  readonly code: DiagnosticCode;
  /** What is wrong; what to write. The key itself is put in front of it later. */
  readonly message: string;
}

/** What stands under a key that is written and not empty. */
export type Input = string | number | boolean | object;

export type Read<T> = { readonly value: T } | FieldFault;

/** Records a fault of a whole value, or of what lies below it at `path`. */
export function addFault(context: z.core.$RefinementCtx, found: FieldFault, path: PropertyKey[] = []): void {
  context.addIssue({ code: 'custom', message: found.message, params: { code: found.code }, path });
}

/** What JSON Schema says of a field, beside what a person is told; the examples of a number are numbers there. */
type Shape = Readonly<Record<string, unknown>> & {
  readonly description: string;
  readonly examples?: readonly unknown[];
};

/** A field that JSON Schema knows by `shape` and that `read` turns into a value. */
export function field<T>(shape: Shape, read: (input: Input) => Read<T>): Field<T> {
  const first = shape.examples?.[0];
  const example = first === undefined ? undefined : shown(first);
  return z
    .unknown()
    .meta(shape)
    .transform((input, context): T => {
      if (input === undefined) {
        // Only where the issue is turned into a message is the key known that has to be written.
        context.addIssue({ code: 'custom', message: 'is missing', params: { code: 'missing-key', example } });
        return z.NEVER;
      }
      const offer = example === undefined ? '' : `; write ${example}`;
      const outcome: Read<T> = input === null ? { code: 'wrong-form', message: `is empty${offer}` } : read(input);
      if ('value' in outcome) return outcome.value;
      addFault(context, outcome);
      return z.NEVER;
    });
}

/** The JSON Schema (draft 2020-12) of what a file may contain. */
export function jsonSchemaOf(schema: z.ZodType): Record<string, unknown> {
  const { $schema: _, ...rest } = z.toJSONSchema(schema, { io: 'input' });
  return rest;
}

/** What is written, made fit for one line of a message. */
export function shown(written: unknown): string {
  const line = asText(written).replace(/[\p{Cc}\u2028\u2029]/gu, '·');
  return line.length > 40 ? `${line.slice(0, 39)}…` : line;
}

/** A scalar as the text it was; lists and mappings have none. */
export function asText(written: unknown): string {
  return typeof written === 'string' || typeof written === 'number' || typeof written === 'boolean'
    ? String(written)
    : '…';
}
