import { readFileSync } from 'node:fs';
import { boardJsonSchema, jobJsonSchema, shopJsonSchema, typesJsonSchema } from '@curvewright/board';
import { expect, it } from 'vitest';

it.each([
  ['board', boardJsonSchema()],
  ['job', jobJsonSchema()],
  ['types', typesJsonSchema()],
  ['shop', shopJsonSchema()],
])('shared/schemas/%s.schema.json is what the definition in code gives (else: pnpm schemas)', (name, schema) => {
  const file = new URL(`../../shared/schemas/${name}.schema.json`, import.meta.url);
  expect(JSON.parse(readFileSync(file, 'utf8'))).toEqual(JSON.parse(JSON.stringify(schema)));
});
