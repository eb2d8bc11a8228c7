import type { Unit } from '@curvewright/quantity';
import { z } from 'zod';
import type { DiagnosticCode } from '../diagnostics.ts';
import { suggestion } from '../nearest.ts';
import {
  addFault,
  jsonSchemaOf,
  shown,
  type Field,
  type FieldFault,
  type Input,
  type Sign,
  type Told,
} from './field.ts';
import { quantity } from './scalar-fields.ts';

/** A key of a table. `code` is raised, at the key, where the pattern does not fit. */
export type Key = z.core.$ZodType<string, string> & z.ZodType<string, string>;

export function key(pattern: RegExp, code: DiagnosticCode, told: Told): Key {
  return z
    .string()
    .superRefine((written, context) => {
      if (pattern.test(written)) return;
      const message = `${shown(written)} has the wrong form; write ${told.examples?.join(' or ') ?? told.description}`;
      addFault(context, { code, message });
    })
    .meta({ pattern: pattern.source, description: told.description });
}

/** A table: every key fits `keys`, every value `values`. */
export function table<T>(keys: Key, values: Field<T>, told: Told): Field<Record<string, T>> {
  return z
    .record(keys, values, { error: () => 'needs names with what they stand for; write { NAME: … }' })
    .meta({ description: told.description });
}

/** A list of at least `least` (0) and at most `most` items. */
export function list<T>(item: Field<T>, told: Told & { readonly least?: number; readonly most?: number }): Field<T[]> {
  const offer = told.examples?.[0] ?? '[…]';
  const fault = (): string => `needs a list; write ${offer}`;
  let schema = z.array(item, { error: fault }).min(told.least ?? 0, { error: fault });
  if (told.most !== undefined) schema = schema.max(told.most, { error: fault });
  return schema.meta({ description: told.description });
}

/** A mapping that knows its keys: any other key is a fault, with the nearest known one offered. */
export function strict<S extends z.core.$ZodLooseShape>(shape: S): z.ZodObject<S, z.core.$strict> {
  const known = Object.keys(shape);
  return z.strictObject(shape, {
    error: (issue) =>
      issue.code === 'unrecognized_keys'
        ? // One line for each key, in the order of `keys`: the reader of the issue takes them apart again.
          issue.keys.map((name) => `is not a key here; ${suggestion(name, known)}`).join('\n')
        : `needs keys and values; write { ${known.slice(0, 4).join(': …, ')}: … }`,
  });
}

/** One way to write a value: `fits` looks at the outer form only, `schema` then says what is wrong inside it. */
export interface Form<T> {
  readonly fits: (input: Input) => boolean;
  readonly schema: Field<T>;
}

/**
 * A value that may be written in several forms; the first whose `fits` holds reads it. Where none fits, `otherwise` may
 * say what is wrong, at `path` inside the value.
 */
export function oneOf<T>(
  forms: readonly Form<T>[],
  told: Told,
  otherwise?: (input: Input) => FieldFault & { readonly path: PropertyKey[] },
): Field<T> {
  const shape = {
    description: told.description,
    // A getter: the JSON Schema is asked for seldom, and building it for every start of the tool would cost time.
    get anyOf() {
      return forms.map((form) => jsonSchemaOf(form.schema));
    },
  };
  const offer = told.examples === undefined ? '' : `; write ${told.examples.join(' or ')}`;
  return z
    .unknown()
    .meta(shape)
    .transform((input, context): T => {
      if (input === undefined) {
        const params = { code: 'missing-key', example: told.examples?.[0] };
        context.addIssue({ code: 'custom', message: 'is missing', params });
        return z.NEVER;
      }
      const form = input === null ? undefined : forms.find((each) => each.fits(input as Input));
      if (form === undefined) {
        const found = input === null ? undefined : otherwise?.(input);
        addFault(context, found ?? { code: 'wrong-form', message: `has the wrong form${offer}` }, found?.path);
        return z.NEVER;
      }
      const outcome = form.schema.safeParse(input);
      if (outcome.success) return outcome.data;
      context.issues.push(...(outcome.error.issues as z.core.$ZodRawIssue[]));
      return z.NEVER;
    });
}

export function isText(input: unknown): boolean {
  return typeof input === 'string' || typeof input === 'number';
}

export function isList(input: unknown): boolean {
  return Array.isArray(input);
}

export function isMap(input: unknown): input is Record<string, unknown> {
  return typeof input === 'object' && input !== null && !Array.isArray(input);
}

/** Tells the forms of a mapping apart by one of its keys. */
export function hasKey(name: string): (input: unknown) => boolean {
  return (input) => isMap(input) && Object.hasOwn(input, name);
}

/** Tells the forms of a mapping apart by what it says under `kind`. */
export function isKind(...names: readonly string[]): (input: unknown) => boolean {
  return (input) => isMap(input) && names.some((name) => input.kind === name);
}

/** A figure at a stated current (or whatever `atUnit` measures): `{ value: 600 mV, at: 1 mA }`. */
export function figureAt(
  unit: Unit,
  atUnit: Unit,
  told: Told & Sign & { readonly at: Told },
): Field<{ readonly value: number; readonly at: number }> {
  return strict({
    value: quantity(unit, told),
    at: quantity(atUnit, { ...told.at, positive: true }),
  }).meta({ description: told.description });
}
