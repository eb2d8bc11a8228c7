import { mkdir, readFile, readdir, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { openStore } from '../../src/server/file-store.ts';
import { copySeeds, readyFolder } from '../../src/server/first-start.ts';
import { tempFolder } from './running-bench.ts';

const seeds = join(import.meta.dirname, '../../../../seeds');

let place: string;
beforeEach(async () => {
  place = await tempFolder();
});
afterEach(() => rm(place, { recursive: true }));

it.each([
  ['missing', 'a/new/bench', false],
  ['empty', 'bench', true],
])('makes a bench of a folder that is %s: all seeds, as they are, and free to be changed', async (_, name, made) => {
  const folder = join(place, name);
  if (made) await mkdir(folder);
  const ready = await readyFolder(folder);
  expect(ready).toEqual({ ok: true, value: { root: folder, empty: true } });
  const store = await openStore(folder, folder);
  const { files } = await store.list();
  expect(files).toEqual([]);

  const copied = await copySeeds(store);
  const paths = (await readdir(seeds, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(seeds.length + 1));
  expect(paths.length).toBeGreaterThanOrEqual(7);
  expect(copied).toEqual({ ok: true, value: paths.length });
  for (const path of paths) {
    expect(await readFile(join(folder, path))).toEqual(await readFile(join(seeds, path)));
    expect((await stat(join(folder, path))).mode & 0o200).toBe(0o200);
  }
  const kinds = (await store.list()).files.map(({ kind }) => kind);
  expect(kinds).not.toContain('other');
  expect(kinds).toContain('job');
});

it('leaves a folder that holds anything as it is', async () => {
  await writeFile(join(place, 'letter.txt'), 'mine');
  expect(await readyFolder(place)).toEqual({ ok: true, value: { root: place, empty: false } });
});

it('says so where the name is a file', async () => {
  const file = join(place, 'letter.txt');
  await writeFile(file, 'mine');
  expect(await readyFolder(file)).toEqual({
    ok: false,
    status: 400,
    message: `${file} lies below a file; name a folder there`,
  });
});
