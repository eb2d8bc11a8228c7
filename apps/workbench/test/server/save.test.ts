import { createHash } from 'node:crypto';
import { chmod, mkdir, readFile, readdir, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { KeptVersion } from '../../src/contract/files.ts';
import { keptVersions } from '../../src/server/history.ts';
import { runBench, type RunningBench } from './running-bench.ts';

const JOB = 'jobs/one.job.yaml';
const FIRST = '# kept\r\njob: 1  # as written: Ω µ\n';

let bench: RunningBench;
beforeEach(async () => {
  bench = await runBench({ [JOB]: FIRST });
});
afterEach(() => bench.close());

const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');
const onDisk = (path: string): Promise<string> => readFile(join(bench.folder, path), 'utf8');
const kept = async (path: string): Promise<readonly KeptVersion[]> =>
  JSON.parse((await bench.ask(`/api/history?path=${path}`)).text) as KeptVersion[];
const keptTexts = async (path: string): Promise<readonly unknown[]> => {
  const versions = await kept(path);
  return Promise.all(
    versions.map(async ({ id }) => (await bench.ask(`/api/history/text?path=${path}&id=${id}`)).json.text),
  );
};

describe('reading and saving', () => {
  it('gives the text and the SHA-256 of its bytes', async () => {
    expect((await bench.ask(`/api/file?path=${JOB}`)).json).toEqual({ path: JOB, text: FIRST, version: sha256(FIRST) });
  });

  it('saves byte for byte, a byte order mark too', async () => {
    const next = `\uFEFF${FIRST}complaint: 'pops'\n`;
    const saved = await bench.save(JOB, next, sha256(FIRST));
    expect([saved.status, saved.json]).toEqual([200, { version: sha256(next) }]);
    expect(await onDisk(JOB)).toBe(next);
    expect((await bench.ask(`/api/file?path=${JOB}`)).json.text).toBe(next);
  });

  it('makes a new file, with its folder', async () => {
    expect((await bench.save('2026/march/two.job.yaml', 'job: 1\n', null)).status).toBe(200);
    expect(await onDisk('2026/march/two.job.yaml')).toBe('job: 1\n');
  });

  it('keeps what may be done with a file', async () => {
    await chmod(join(bench.folder, JOB), 0o640);
    await bench.save(JOB, 'job: 1\n', sha256(FIRST));
    expect((await stat(join(bench.folder, JOB))).mode & 0o777).toBe(0o640);
  });

  it('leaves nothing beside the file, and clears what a killed bench left', async () => {
    const left = join(bench.folder, 'jobs/.saving-00000000-0000-0000-0000-000000000000');
    const fresh = join(bench.folder, 'jobs/.saving-11111111-1111-1111-1111-111111111111');
    await writeFile(left, 'half');
    await utimes(left, new Date(0), new Date(0));
    await writeFile(fresh, 'perhaps the save of another bench');
    await bench.save(JOB, 'job: 1\n', sha256(FIRST));
    expect(await readdir(join(bench.folder, 'jobs'))).toEqual([
      '.saving-11111111-1111-1111-1111-111111111111',
      'one.job.yaml',
    ]);
  });
});

describe('two that save the same file', () => {
  it('tells the second what stands on the disk now, and changes nothing', async () => {
    expect((await bench.save(JOB, 'job: 1 # a\n', sha256(FIRST))).status).toBe(200);
    const second = await bench.save(JOB, 'job: 1 # b\n', sha256(FIRST));
    expect(second.status).toBe(409);
    expect(second.json).toEqual({ path: JOB, text: 'job: 1 # a\n', version: sha256('job: 1 # a\n') });
    expect(await onDisk(JOB)).toBe('job: 1 # a\n');
  });

  it('lets one of many at the same time through', async () => {
    const texts = Array.from({ length: 12 }, (_, i) => `job: 1 # ${i}\n`);
    const answers = await Promise.all(texts.map((text) => bench.save(JOB, text, sha256(FIRST))));
    const through = texts.filter((_, i) => answers[i]!.status === 200);
    expect(through).toHaveLength(1);
    expect(answers.filter(({ status }) => status === 409)).toHaveLength(11);
    expect(await onDisk(JOB)).toBe(through[0]);
  });

  it('tells of a change by another program, which is kept once it is replaced knowingly', async () => {
    await bench.put(JOB, 'job: 1 # elsewhere\n');
    const refused = await bench.save(JOB, 'job: 1 # here\n', sha256(FIRST));
    expect([refused.status, refused.json.text]).toEqual([409, 'job: 1 # elsewhere\n']);
    expect((await bench.save(JOB, 'job: 1 # here\n', refused.json.version as string)).status).toBe(200);
    expect(await keptTexts(JOB)).toEqual(['job: 1 # here\n', 'job: 1 # elsewhere\n']);
  });

  it('does not make a file anew that is there', async () => {
    const { status, json } = await bench.save(JOB, 'job: 1\n', null);
    expect([status, json.text]).toEqual([409, FIRST]);
  });

  it('says that a file is gone, and makes it anew when told so', async () => {
    await rm(join(bench.folder, JOB));
    const { status, json } = await bench.save(JOB, 'job: 1\n', sha256(FIRST));
    expect([status, json]).toEqual([409, { path: JOB, text: null, version: null }]);
    expect((await bench.save(JOB, 'job: 1\n', null)).status).toBe(200);
  });

  it('takes the same text again for saved: its first answer may have been lost', async () => {
    await bench.save(JOB, 'job: 1\n', sha256(FIRST));
    expect((await bench.save(JOB, 'job: 1\n', sha256(FIRST))).status).toBe(200);
    expect(await kept(JOB)).toHaveLength(2);
  });
});

describe('kept versions', () => {
  it('are what was replaced and what was saved, newest first', async () => {
    await bench.save(JOB, 'job: 1 # a\n', sha256(FIRST));
    await bench.save(JOB, 'job: 1 # b\n', sha256('job: 1 # a\n'));
    expect(await keptTexts(JOB)).toEqual(['job: 1 # b\n', 'job: 1 # a\n', FIRST]);
    const versions = await kept(JOB);
    expect(versions.map(({ version }) => version)).toEqual([
      sha256('job: 1 # b\n'),
      sha256('job: 1 # a\n'),
      sha256(FIRST),
    ]);
    for (const { saved } of versions) expect(new Date(saved).toISOString()).toBe(saved);
  });

  it(`are the last ${keptVersions}`, async () => {
    let base = sha256(FIRST);
    for (let i = 0; i < keptVersions + 5; i++) {
      const { json } = await bench.save(JOB, `job: 1 # ${i}\n`, base);
      base = json.version as string;
    }
    const last = Array.from({ length: keptVersions }, (_, i) => `job: 1 # ${keptVersions + 4 - i}\n`);
    expect(await keptTexts(JOB)).toEqual(last);
  });

  it('stay in order when the clock was set back', async () => {
    const folder = join(bench.folder, '.curvewright/history', JOB);
    await mkdir(folder, { recursive: true });
    await writeFile(join(folder, `29990101T000000000Z-${sha256(FIRST)}`), FIRST);
    await bench.save(JOB, 'job: 1 # a\n', sha256(FIRST));
    expect(await keptTexts(JOB)).toEqual(['job: 1 # a\n', FIRST]);
  });

  it('outlive the file', async () => {
    await bench.save(JOB, 'job: 1 # a\n', sha256(FIRST));
    await rm(join(bench.folder, JOB));
    expect(await keptTexts(JOB)).toEqual(['job: 1 # a\n', FIRST]);
  });

  it('are none of a file that was never saved, and none by a made-up name', async () => {
    expect(await kept('jobs/never.job.yaml')).toEqual([]);
    for (const id of ['', 'x', '../../../../one.job.yaml', `20260301T101530123Z-${'0'.repeat(64)}`])
      expect((await bench.ask(`/api/history/text?path=${JOB}&id=${id}`)).status).toBe(404);
  });
});

describe('the list', () => {
  it('tells each file with its kind', async () => {
    const files: Readonly<Record<string, string>> = {
      'boards/a.board.yaml': 'title: not read yet',
      'boards/b.yml': '# a board\nboard: 1\n',
      'drawer.csv': 'stock,kind\n',
      'jobs/old.yaml': 'title: x\njob: 1\nboard: ../boards/b.yml\n',
      'left.csv': 'hz,db\n',
      'shop.types.yaml': 'HN-A: { kind: npn }\n',
      'shop.yaml': 'shop: 1\nname: Bench\n',
      'words.yaml': 'hello: there\n',
    };
    for (const [path, text] of Object.entries(files)) await bench.put(path, text);
    const { json } = await bench.ask('/api/files');
    const told = json.files as { path: string; kind: string; version: string; modified: string }[];
    expect(told.map(({ path, kind }) => [path, kind])).toEqual([
      ['boards/a.board.yaml', 'board'],
      ['boards/b.yml', 'board'],
      ['drawer.csv', 'drawer'],
      ['jobs/old.yaml', 'job'],
      [JOB, 'job'],
      ['left.csv', 'other'],
      ['shop.types.yaml', 'types'],
      ['shop.yaml', 'shop'],
      ['words.yaml', 'other'],
    ]);
    for (const { path, version, modified } of told) {
      expect(version).toBe(sha256(files[path] ?? FIRST));
      expect(new Date(modified).toISOString()).toBe(modified);
    }
  });
});
