import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { boardFile, boardJsonSchema, typesJsonSchema } from '../src/schema/board-schema.ts';
import { defaultLimits, limits, mergeLimits } from '../src/schema/limits-schema.ts';
import { partEntry } from '../src/schema/part-schema.ts';
import { partType } from '../src/schema/type-schema.ts';

interface JsonSchema {
  readonly type?: string;
  readonly description?: string;
  readonly examples?: readonly unknown[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly anyOf?: readonly JsonSchema[];
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly additionalProperties?: JsonSchema | false;
  readonly required?: readonly string[];
  readonly items?: JsonSchema;
  readonly minItems?: number;
}

const of = (schema: z.ZodType): JsonSchema => z.toJSONSchema(schema, { io: 'input' }) as JsonSchema;

/** A value with every key, each from the schema's own first example; a table gets one entry. */
function sample(schema: JsonSchema): unknown {
  if (schema.anyOf !== undefined) return sample(schema.anyOf[0] ?? {});
  if (schema.properties !== undefined)
    return Object.fromEntries(Object.entries(schema.properties).map(([key, value]) => [key, sample(value)]));
  if (schema.items !== undefined) return Array.from({ length: schema.minItems ?? 1 }, () => sample(schema.items ?? {}));
  if (schema.additionalProperties) return { riaa: sample(schema.additionalProperties) };
  return schema.const ?? schema.enum?.[0] ?? schema.examples?.[0];
}

function leaves(schema: JsonSchema, path: string): readonly (readonly [string, JsonSchema])[] {
  const inner = [
    ...(schema.anyOf ?? []).map((each, index) => [`${path}|${index}`, each] as const),
    ...Object.entries(schema.properties ?? {}).map(([key, each]) => [`${path}.${key}`, each] as const),
    ...(schema.items === undefined ? [] : [[`${path}[]`, schema.items] as const]),
    ...(schema.additionalProperties ? [[`${path}.*`, schema.additionalProperties] as const] : []),
  ];
  return inner.length === 0 ? [[path, schema]] : inner.flatMap(([name, each]) => leaves(each, name));
}

describe('JSON Schema', () => {
  const board = boardJsonSchema() as JsonSchema;

  it('describes every value and shows how it is written', () => {
    const all = leaves(board, 'board');
    expect(all.length).toBeGreaterThan(150);
    for (const [path, leaf] of all) {
      expect(leaf.description, path).toBeTruthy();
      expect(leaf.examples ?? leaf.enum ?? leaf.const, path).toBeDefined();
    }
  });

  it('names the unit of a quantity', () => {
    expect(board.properties?.output?.properties?.load?.properties?.capacitance?.description).toContain('[F]');
  });

  it('demands what the reader demands', () => {
    expect(board.required).toEqual(['board', 'title', 'input', 'output', 'parts']);
    expect(board.additionalProperties).toBe(false);
    const outcome = boardFile.safeParse({});
    expect(outcome.error?.issues.map((issue) => issue.path[0])).toEqual(board.required);
  });

  it('is plain data that survives being written', () => {
    for (const schema of [board, typesJsonSchema()]) expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
  });

  const variants = [...(of(partEntry).anyOf ?? []), ...(of(partType).anyOf ?? [])];
  // A list of examples shows one value of each field, not values that go together.
  const clashing = ['ideality', 'at'];
  it.each(variants.map((variant, index) => [index, variant] as const))(
    'shows examples that the reader accepts: variant %i',
    (index, variant) => {
      const written = Object.fromEntries(
        Object.entries(sample(variant.anyOf?.[0] ?? variant) as object).filter(
          ([key]) =>
            !clashing.includes(key) || index === variants.length - 1 || 'positions' in (variant.properties ?? {}),
        ),
      );
      const outcome = (index < (of(partEntry).anyOf?.length ?? 0) ? partEntry : partType).safeParse(written);
      expect(outcome.error?.issues ?? [], JSON.stringify(written)).toEqual([]);
    },
  );
});

describe('limits', () => {
  it('show as examples exactly the defaults', () => {
    // Both are written in round decimals; a reading in another unit is off by a few ulp at most.
    const shown = limits.parse(sample(of(limits))) as Record<string, Record<string, number>>;
    expect(Object.keys(shown)).toEqual(Object.keys(defaultLimits));
    for (const [name, limit] of Object.entries(defaultLimits))
      for (const [key, value] of Object.entries(limit as object) as [string, number][])
        expect(Math.abs((shown[name]?.[key] ?? NaN) - value), `${name} ${key}`).toBeLessThanOrEqual(
          4 * Number.EPSILON * Math.abs(value),
        );
  });

  it('are merged key by key, the later over the earlier', () => {
    const merged = mergeLimits(
      { deviation: { good: 0.7 }, hum: { good: -65 } },
      { deviation: { from: 40 }, hum: { good: -66 } },
    );
    expect(merged).toEqual({
      ...defaultLimits,
      deviation: { ...defaultLimits.deviation, good: 0.7, from: 40 },
      hum: { ...defaultLimits.hum, good: -66 },
    });
    expect(mergeLimits()).toEqual(defaultLimits);
  });
});
