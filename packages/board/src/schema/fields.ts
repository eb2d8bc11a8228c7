import { readQuantity, readTolerance, type Unit } from '@curvewright/quantity';
import { z } from 'zod';
import type { DiagnosticCode } from '../diagnostics.ts';
import { suggestion } from '../nearest.ts';

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

type Read<T> = { readonly value: T } | FieldFault;

/** Records a fault of a whole value, or of what lies below it at `path`. */
export function addFault(context: z.core.$RefinementCtx, found: FieldFault, path: PropertyKey[] = []): void {
  context.addIssue({ code: 'custom', message: found.message, params: { code: found.code }, path });
}

/** A field that JSON Schema knows by `shape` and that `read` turns into a value. */
export function field<T>(shape: Record<string, unknown> & Told, read: (input: {}) => Read<T>): Field<T> {
  const example = shape.examples?.[0];
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
      const outcome: Read<T> =
        input === null ? { code: 'wrong-form', message: `is empty${offer} or leave the key out` } : read(input as {});
      if ('value' in outcome) return outcome.value;
      addFault(context, outcome);
      return z.NEVER;
    });
}

const unitInWords: Partial<Record<Unit, string>> = {
  '%': 'percent, read as a fraction',
  m: 'm, usually written in mm',
};

/** A number with its unit, read into SI (percent into a fraction). */
export function quantity(unit: Unit, told: Told & Sign): Field<number> {
  const { description, examples = [] } = told;
  const shape = { type: 'string', description: `${description} [${unitInWords[unit] ?? unit}]`, examples };
  return field(shape, (input) => {
    if (typeof input === 'object')
      return { code: 'wrong-form', message: `needs one value${examples[0] ? `; write ${examples[0]}` : ''}` };
    const reading = readQuantity(input, unit);
    if (!reading.ok) return { code: reading.fault, message: reading.message };
    return signed(reading.value, told, String(input), examples[0]);
  });
}

function signed(value: number, sign: Sign, written: string, example = ''): Read<number> {
  const offer = example === '' ? '' : `, such as ${example}`;
  if (sign.positive && !(value > 0))
    return { code: 'out-of-range', message: `${written} cannot be; write a value above 0${offer}` };
  if (sign.notNegative && !(value >= 0))
    return { code: 'out-of-range', message: `${written} cannot be; write 0 or a value above it${offer}` };
  return { value };
}

/** `5 %`, `-20/+80 %` or a tolerance letter, as fractions. */
export function tolerance(): Field<{ readonly minus: number; readonly plus: number }> {
  const shape = {
    type: 'string',
    description: 'Tolerance of the value: percent, two percentages, or an IEC 60062 letter',
    examples: ['5 %', '-20/+80 %', 'J'],
  };
  return field(shape, (input) => {
    if (typeof input === 'object') return { code: 'wrong-form', message: 'needs one value; write 5 %' };
    const reading = readTolerance(input);
    return reading.ok ? { value: reading.value } : { code: reading.fault, message: reading.message };
  });
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

const plainNumberForm = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i;

/** A number that has no unit: a loss factor, a current gain. `integer` and `most` bound it. */
export function plainNumber(told: Told & Sign & { readonly most?: number; readonly integer?: true }): Field<number> {
  const { description, examples = [] } = told;
  // JSON Schema's examples of a number are numbers.
  const shape = { type: told.integer ? 'integer' : 'number', description, examples: examples.map(Number) };
  return field<number>({ ...shape, examples: shape.examples as unknown as readonly string[] }, (input) => {
    const written = String(input);
    const offer = examples[0] === undefined ? '' : `; write ${examples[0]}`;
    if (typeof input === 'string' && /^[-+]?\d+,\d+$/.test(input))
      return { code: 'comma-decimal', message: `${input} has a comma; write ${input.replace(',', '.')}` };
    if (typeof input !== 'number' && !(typeof input === 'string' && plainNumberForm.test(input)))
      return { code: 'wrong-form', message: `needs a number without a unit${offer}` };
    const value = Number(input);
    if (!Number.isFinite(value)) return { code: 'out-of-range', message: `${written} is too large${offer}` };
    if (told.integer && !Number.isInteger(value))
      return { code: 'wrong-form', message: `${written} is not a whole number${offer}` };
    if (told.most !== undefined && value > told.most)
      return { code: 'out-of-range', message: `${written} is too large; write at most ${told.most}` };
    return signed(value, told, written, examples[0]);
  });
}

/** Free text, kept as written. */
export function text(told: Told): Field<string> {
  return field({ type: 'string', ...told }, (input) =>
    typeof input === 'string' ? { value: input } : { code: 'wrong-form', message: 'needs a text' },
  );
}

/** One word of a closed list. */
export function choice<const T extends string>(values: readonly T[], told: Told): Field<T> {
  const shape = { type: 'string', enum: values, ...told, examples: told.examples ?? values.slice(0, 1) };
  return field(shape, (input) => {
    const value = values.find((each) => each === input);
    if (value !== undefined) return { value };
    const message =
      typeof input === 'string'
        ? `${shown(input)} is not known; ${suggestion(input, values)}`
        : `needs one word; write one of ${values.join(', ')}`;
    return { code: 'wrong-form', message };
  });
}

/** `true` or `false`. */
export function flag(told: Told): Field<boolean> {
  return field<boolean>({ type: 'boolean', ...told }, (input) => {
    if (input === true || input === 'true') return { value: true };
    if (input === false || input === 'false') return { value: false };
    return { code: 'wrong-form', message: 'needs yes or no; write true or false' };
  });
}

/** The version of a file format: the file's first key, `board: 1`. */
export function version(format: string): Field<1> {
  return field<1>({ const: 1, description: `Version of the ${format} file format`, examples: ['1'] }, (input) =>
    input === 1 || input === '1'
      ? { value: 1 }
      : { code: 'wrong-version', message: `version ${shown(String(input))} is not known; write 1` },
  );
}

/** Letters and digits that fit `pattern`; anything else raises `code`. */
export function matching(pattern: RegExp, code: DiagnosticCode, told: Told): Field<string> {
  return field({ type: 'string', pattern: pattern.source, ...told }, (input) => {
    if (typeof input === 'string' && pattern.test(input)) return { value: input };
    const written = typeof input === 'object' ? 'has the wrong form' : `${shown(String(input))} has the wrong form`;
    return { code, message: `${written}; write ${told.examples?.join(' or ') ?? told.description}` };
  });
}

const designatorForm = '[A-Z]{1,3}[0-9]{1,5}[A-Z]?';

/** One reference designator in the style of IEC 60617 and IEEE 315: letters, digits, a letter for part of a package. */
export const designatorPattern: RegExp = new RegExp(`^${designatorForm}$`);

/** The name of a node: letters, digits, underscore; with `@` and a channel where one channel's node is meant. */
export const nodePattern: RegExp = /^[A-Za-z0-9_]+(@[A-Za-z][A-Za-z0-9_]*)?$/;

/** A node as a lead names it. */
export function node(description: string): Field<string> {
  return matching(nodePattern, 'wrong-form', { description, examples: ['b1', 'gnd', 'out@left'] });
}

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

/** One designator, or one for each channel joined by `/`. */
export const positionKey: Key = key(new RegExp(`^${designatorForm}(/${designatorForm})*$`), 'not-a-designator', {
  description: 'Reference designator, or one for each channel in their order',
  examples: ['R101', 'R101/R102'],
});

/** A name of a type, a cartridge, a switch's position. */
export const nameKey: Key = key(/^[A-Za-z0-9][A-Za-z0-9 _.+/()-]*$/, 'wrong-form', {
  description: 'Name: letters, digits, - _ . + / ( )',
  examples: ['HN-A'],
});

/** A table: every key fits `keys`, every value `values`. */
export function table<T>(keys: Key, values: Field<T>, told: Told): Field<Record<string, T>> {
  return z
    .record(keys, values, { error: () => 'needs a table of names; write NAME: …, one a line' })
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
  readonly fits: (input: {}) => boolean;
  readonly schema: Field<T>;
}

/**
 * A value that may be written in several forms; the first whose `fits` holds reads it. Where none fits, `otherwise` may
 * say what is wrong, at `path` inside the value.
 */
export function oneOf<T>(
  forms: readonly Form<T>[],
  told: Told,
  otherwise?: (input: {}) => FieldFault & { readonly path: PropertyKey[] },
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
      const form = input === null ? undefined : forms.find((each) => each.fits(input as {}));
      if (form === undefined) {
        const found = input === null ? undefined : otherwise?.(input as {});
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
  return (input) => isMap(input) && names.some((name) => input['kind'] === name);
}

/** The JSON Schema (draft 2020-12) of what a file may contain. */
export function jsonSchemaOf(schema: z.ZodType): Record<string, unknown> {
  const { $schema: _, ...rest } = z.toJSONSchema(schema, { io: 'input' });
  return rest;
}

/** Text from a file made fit for one line of a message. */
export function shown(written: string): string {
  const line = written.replace(/[\p{Cc}\u2028\u2029]/gu, '·');
  return line.length > 40 ? `${line.slice(0, 39)}…` : line;
}
