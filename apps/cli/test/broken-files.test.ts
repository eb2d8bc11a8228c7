import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { repositoryPath, run } from './recording-desk.ts';

const folder = repositoryPath('fixtures/broken');
const files = readdirSync(folder).filter((name) => !name.startsWith('good.'));

interface ErrorLine {
  code: string;
  file: string;
  line: number;
  column: number;
  message: string;
}

describe('every broken file is refused by the command', () => {
  it.each(files)('%s: status 2, code and place, a line on standard error, no stack', (name) => {
    const path = `${folder}/${name}`;
    const expected = /^# expect: (\S+) at (\d+):(\d+)(?: with (.+))?$/m.exec(readFileSync(path, 'utf8'));
    // Some codes are about a file and what the command asks of it.
    const words = expected?.[4] === undefined ? ['check', path] : ['curve', path, ...expected[4].split(' ')];
    const { status, out, complaint } = run(...words, '--json');
    const { errors } = JSON.parse(out) as { errors: ErrorLine[] };
    expect(status).toBe(2);
    expect(errors.map(({ code, line, column }) => `${code} at ${line}:${column}`)).toContain(
      `${expected?.[1]} at ${expected?.[2]}:${expected?.[3]}`,
    );
    expect(complaint.trimEnd().split('\n')).toEqual(
      errors.map(({ file, line, column, message }) => `${file}:${line}:${column}: ${message}`),
    );
    expect(complaint).not.toMatch(/\bat .*\.ts|undefined|NaN|\[object/);
  });
});

describe('files that cannot be read', () => {
  it.each([
    ['a file that is not there', 'fixtures/not-there.yaml', /is not there/],
    ['a folder', 'fixtures', /is a folder/],
    ['bytes that are no text', 'fixtures/not-text.board.yaml', /not UTF-8/],
  ])('%s', (_, path, words) => {
    const { status, complaint } = run('check', repositoryPath(path));
    expect(status).toBe(2);
    expect(complaint).toMatch(words);
  });
});
