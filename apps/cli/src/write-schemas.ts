import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { boardJsonSchema, jobJsonSchema, shopJsonSchema, typesJsonSchema } from '@curvewright/board';

const folder = new URL('../../../shared/schemas/', import.meta.url);
mkdirSync(fileURLToPath(folder), { recursive: true });
for (const [name, schema] of [
  ['board', boardJsonSchema()],
  ['job', jobJsonSchema()],
  ['types', typesJsonSchema()],
  ['shop', shopJsonSchema()],
] as const) {
  writeFileSync(new URL(`${name}.schema.json`, folder), `${JSON.stringify(schema, null, 2)}\n`);
}
