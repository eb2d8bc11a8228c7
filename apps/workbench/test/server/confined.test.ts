import { link, mkdir, readFile, readdir, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runBench, tempFolder, type RunningBench } from './running-bench.ts';

const SECRET = 'secret: 1\n';

let bench: RunningBench;
let outside: string;
beforeAll(async () => {
  bench = await runBench({ 'jobs/one.job.yaml': 'job: 1\n', '.hidden/two.yaml': SECRET, 'notes.txt': SECRET });
  outside = await tempFolder();
  await writeFile(join(outside, 'other.yaml'), SECRET);
  await mkdir(join(outside, 'jobs'));
  await symlink(join(outside, 'other.yaml'), join(bench.folder, 'file-link.yaml'));
  await symlink(join(outside, 'jobs'), join(bench.folder, 'folder-link'));
  await symlink(join(outside, 'not-yet.yaml'), join(bench.folder, 'dangling.yaml'));
  await symlink('../.hidden/two.yaml', join(bench.folder, 'jobs/to-hidden.yaml'));
  await symlink('../notes.txt', join(bench.folder, 'jobs/to-notes.yaml'));
  await symlink('round.yaml', join(bench.folder, 'round.yaml'));
});
afterAll(async () => {
  await bench.close();
  await rm(outside, { recursive: true });
});

/** As the query carries it, and what each would reach if it were followed. */
const WAYS_OUT: readonly (readonly [string, string])[] = [
  ['../other.yaml', 'the folder above'],
  ['jobs/../../other.yaml', 'the folder above, from below'],
  ['%2e%2e%2fother.yaml', 'the same, encoded'],
  ['%252e%252e%252fother.yaml', 'the same, encoded twice'],
  ['..%5cother.yaml', 'the same, as Windows writes it'],
  ['jobs%5c..%5c..%5cother.yaml', 'the same from below'],
  ['/etc/other.yaml', 'the whole disk'],
  ['//server/share/other.yaml', 'another machine'],
  ['%5c%5cserver%5cshare%5cother.yaml', 'another machine, as Windows writes it'],
  ['C:/other.yaml', 'a drive'],
  ['C:other.yaml', "a drive's own folder"],
  ['jobs/one.job.yaml:stream.yaml', 'a second content of a file'],
  ['jobs/con.yaml', 'a device'],
  ['jobs/COM1.board.yaml', 'a device'],
  ['jobs/one.job.yaml%00.yaml', 'a name cut short'],
  ['jobs/one%0a.yaml', 'a name over two lines'],
  ['jobs/./one.job.yaml', 'a second spelling'],
  ['jobs//one.job.yaml', 'a second spelling'],
  ['jobs/one.job.yaml.', 'a second spelling on Windows'],
  ['jobs%20/one.job.yaml', 'a second spelling on Windows'],
  ['.hidden/two.yaml', 'something hidden'],
  ['jobs/.one.yaml', 'something hidden'],
  ['.curvewright/history/jobs/one.yaml', 'what the bench keeps'],
  ['notes.txt', 'no file of the bench'],
  ['jobs', 'a folder'],
  ['', 'nothing'],
  [`jobs/${'x'.repeat(1000)}.yaml`, 'too long a name'],
  ['file-link.yaml', 'a link out'],
  ['folder-link/new.yaml', 'a link out, below it'],
  ['dangling.yaml', 'a link to what is not there yet'],
  ['jobs/to-hidden.yaml', 'a link to something hidden'],
  ['jobs/to-notes.yaml', 'a link to no file of the bench'],
  ['round.yaml', 'a link to itself'],
];

describe('what lies outside the folder', () => {
  it.each(WAYS_OUT)('is not read, listed or written by %s: %s', async (written) => {
    const path = decodeURIComponent(written);
    const before = [await readdir(outside, { recursive: true }), await readdir(bench.folder, { recursive: true })];
    const asked = [
      await bench.ask(`/api/file?path=${written}`),
      await bench.ask(`/api/history?path=${written}`),
      await bench.ask(`/api/history/text?path=${written}&id=x`),
      await bench.save(path, 'job: 2\n', null),
    ];
    // Encoded twice it is an odd name inside the folder, which is not there.
    const statuses = path.startsWith('%') ? [404, 200, 404, 200] : [403, 403, 403, 403];
    expect(asked.map(({ status }) => status)).toEqual(statuses);
    for (const { text } of asked) expect(text).not.toContain(SECRET.trim());
    if (path.startsWith('%')) await rm(join(bench.folder, path));
    else
      expect([await readdir(outside, { recursive: true }), await readdir(bench.folder, { recursive: true })]).toEqual(
        before,
      );
    expect(await readFile(join(outside, 'other.yaml'), 'utf8')).toBe(SECRET);
    expect(await readFile(join(bench.folder, 'jobs/one.job.yaml'), 'utf8')).toBe('job: 1\n');
  });

  it('is not in the list', async () => {
    const { json } = await bench.ask('/api/files');
    expect(json.folder).toBe(bench.folder);
    expect(json.complete).toBe(true);
    expect((json.files as { path: string }[]).map(({ path }) => path)).toEqual(['jobs/one.job.yaml']);
  });

  it('is not written through a link that takes the place of the kept versions', async () => {
    const other = await runBench({ 'one.yaml': 'job: 1\n' });
    await symlink(outside, join(other.folder, '.curvewright'));
    const version = (await other.ask('/api/file?path=one.yaml')).json.version as string;
    expect((await other.save('one.yaml', 'job: 2\n', version)).status).toBe(403);
    expect(await readdir(outside)).toEqual(['jobs', 'other.yaml']);
    expect(await readFile(join(other.folder, 'one.yaml'), 'utf8')).toBe('job: 1\n');
    await other.close();
  });
});

describe('links that stay in the folder', () => {
  it('are read, and the file that they name is saved', async () => {
    const other = await runBench({ 'shop/one.job.yaml': 'job: 1\n' });
    await symlink('shop/one.job.yaml', join(other.folder, 'today.job.yaml'));
    const version = (await other.ask('/api/file?path=today.job.yaml')).json.version as string;
    expect((await other.save('today.job.yaml', 'job: 2\n', version)).status).toBe(200);
    expect(await readFile(join(other.folder, 'shop/one.job.yaml'), 'utf8')).toBe('job: 2\n');
    await other.close();
  });
});

describe('what is no text of a job', () => {
  it('is refused by size', async () => {
    const body = JSON.stringify({ path: 'jobs/big.yaml', text: 'x'.repeat(2 ** 21), base: null });
    expect((await bench.ask('/api/file', { method: 'PUT', body })).status).toBe(413);
    const chunked = { 'transfer-encoding': 'chunked' };
    expect((await bench.ask('/api/file', { method: 'PUT', headers: chunked, body })).status).toBe(413);
    await bench.put('jobs/big.yaml', 'x'.repeat(2 ** 21 + 1));
    expect((await bench.ask('/api/file?path=jobs/big.yaml')).status).toBe(413);
  });

  it.each([
    ['no JSON', '{'],
    ['nothing', ''],
    ['null', 'null'],
    ['a list', '[]'],
    ['no base', '{"path":"jobs/new.yaml","text":""}'],
    ['a number for a text', '{"path":"jobs/new.yaml","text":1,"base":null}'],
    ['half a character', '{"path":"jobs/new.yaml","text":"\\ud800","base":null}'],
  ])('is refused by form: %s', async (_, body) => {
    expect((await bench.ask('/api/file', { method: 'PUT', body })).status).toBe(400);
    expect((await bench.ask('/api/file?path=jobs/new.yaml')).status).toBe(404);
  });

  it('is refused where it is not UTF-8, and not overwritten', async () => {
    const bytes = new Uint8Array([0x6a, 0xff, 0xfe]);
    await bench.put('jobs/latin.yaml', bytes);
    const { status, json } = await bench.ask('/api/file?path=jobs/latin.yaml');
    expect([status, json.message]).toEqual([
      415,
      'jobs/latin.yaml is not UTF-8 text; save it as UTF-8 elsewhere first',
    ]);
    expect((await bench.save('jobs/latin.yaml', 'job: 1\n', null)).status).toBe(415);
    expect(new Uint8Array(await readFile(join(bench.folder, 'jobs/latin.yaml')))).toEqual(bytes);
  });

  it('is refused where it is a folder or lies below a file', async () => {
    await mkdir(join(bench.folder, 'folder.yaml'));
    expect((await bench.ask('/api/file?path=folder.yaml')).status).toBe(400);
    expect((await bench.save('folder.yaml', '', null)).status).toBe(400);
    expect((await bench.save('jobs/one.job.yaml/two.yaml', '', null)).status).toBe(400);
  });
});

describe('a second name of the same file', () => {
  it('keeps its old text when the first is saved: what another folder shares is not changed', async () => {
    const other = await runBench();
    await link(join(outside, 'other.yaml'), join(other.folder, 'one.yaml'));
    const version = (await other.ask('/api/file?path=one.yaml')).json.version as string;
    expect((await other.save('one.yaml', 'job: 2\n', version)).status).toBe(200);
    expect(await readFile(join(outside, 'other.yaml'), 'utf8')).toBe(SECRET);
    await other.close();
  });
});
