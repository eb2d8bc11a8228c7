import { readFileSync, readdirSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';

const at = (path: string): URL => new URL(`../../${path}`, import.meta.url);
const yamlOf = (path: string): unknown => parse(readFileSync(at(path), 'utf8'));
const filesIn = (folder: string, ending: string): readonly string[] =>
  readdirSync(at(folder))
    .filter((file) => file.endsWith(ending))
    .map((file) => `${folder}/${file}`);

/** An independent validator of JSON Schema 2020-12, as an editor uses one. */
const validatorOf = (name: string): ((value: unknown) => readonly string[]) => {
  const ajv = new Ajv2020({ strict: true, allowUnionTypes: true, allErrors: true });
  const validate = ajv.compile(JSON.parse(readFileSync(at(`shared/schemas/${name}.schema.json`), 'utf8')) as object);
  return (value) => {
    validate(value);
    return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);
  };
};
const board = validatorOf('board');
const job = validatorOf('job');
const shop = validatorOf('shop');

describe('the JSON Schemas, by an independent validator', () => {
  it.each([
    ...filesIn('seeds/boards', '.board.yaml'),
    'apps/cli/templates/board.yaml',
    'fixtures/broken/good.board.yaml',
  ])('accept %s', (path) => {
    expect(board(yamlOf(path))).toEqual([]);
  });

  it.each([...filesIn('seeds/jobs', '.job.yaml'), 'apps/cli/templates/job.yaml'])('accept %s', (path) => {
    expect(job(yamlOf(path))).toEqual([]);
  });

  it('accept seeds/shop.yaml', () => {
    expect(shop(yamlOf('seeds/shop.yaml'))).toEqual([]);
  });

  // The rest of the faults lie in how parts hang together, which no schema of a file sees.
  it.each(['missing-key', 'unknown-key', 'wrong-version', 'wrong-form', 'not-a-designator', 'bare-number'])(
    'refuse the file broken by %s',
    (code) => {
      expect(board(yamlOf(`fixtures/broken/${code}.board.yaml`))).not.toEqual([]);
    },
  );

  it('refuse a board as a job', () => {
    expect(job(yamlOf('fixtures/broken/good.board.yaml'))).not.toEqual([]);
  });
});
