/** What of JSON Schema the files' schemas use. */
export interface Schema {
  readonly description?: string;
  readonly type?: string | readonly string[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly additionalProperties?: Schema | boolean;
  readonly propertyNames?: Schema;
  readonly items?: Schema;
  readonly anyOf?: readonly Schema[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly examples?: readonly unknown[];
}

/** Keys from the file's root down to a value; null for a place in a list. */
export type KeyPath = readonly (string | null)[];

/** Every form that the value at a path may take. */
function formsAt(schema: Schema, path: KeyPath): readonly Schema[] {
  return path.reduce<readonly Schema[]>(
    (forms, key) => forms.flatMap((form) => formsOf(below(form, key))),
    formsOf(schema),
  );
}

/** The keys that may stand in a mapping at this path, each with what it says; those with an own form come once. */
export function keysAt(schema: Schema, path: KeyPath): ReadonlyMap<string, Schema> {
  const keys = new Map<string, Schema>();
  for (const { properties = {} } of formsAt(schema, path))
    for (const [key, value] of Object.entries(properties)) if (!keys.has(key)) keys.set(key, value);
  return keys;
}

/** What may be written as the value at this path: its choices where it has some, else its examples. */
export function valuesAt(schema: Schema, path: KeyPath): readonly string[] {
  const forms = formsAt(schema, path);
  const choices = forms.flatMap((form) => form.enum ?? (form.const === undefined ? [] : [form.const]));
  const offered = choices.length > 0 ? choices : forms.flatMap(({ examples = [] }) => examples);
  return [...new Set(offered.map(String))];
}

/** What the value at this path is, in words; null where nothing is known of it. */
export function describedAt(schema: Schema, path: KeyPath): string | null {
  const told = formsAt(schema, path).flatMap(({ description = '' }) => (description === '' ? [] : [description]));
  const around = told.length > 0 ? told : describedWhole(schema, path);
  return around.length === 0 ? null : [...new Set(around)].join('\n');
}

/** A value of several forms may be described above them. */
function describedWhole(schema: Schema, path: KeyPath): readonly string[] {
  const last = path.at(-1);
  if (last === undefined) return [];
  return formsAt(schema, path.slice(0, -1)).flatMap((form) => below(form, last)?.description ?? []);
}

function below(schema: Schema, key: string | null): Schema | undefined {
  if (key === null) return schema.items;
  const { properties = {}, additionalProperties } = schema;
  if (Object.hasOwn(properties, key)) return properties[key];
  return typeof additionalProperties === 'object' ? additionalProperties : undefined;
}

function formsOf(schema: Schema | undefined): readonly Schema[] {
  if (schema === undefined) return [];
  return schema.anyOf === undefined ? [schema] : schema.anyOf.flatMap(formsOf);
}
