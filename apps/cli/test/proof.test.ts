import { spawnSync, type SpawnSyncReturns } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { FileSystemConfigLoader, HtmlValidate } from 'html-validate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { repositoryPath, runLong, type Ran } from './recording-desk.ts';

const home = realpathSync(mkdtempSync(join(tmpdir(), 'curvewright-proof-')));
afterAll(() => {
  rmSync(home, { recursive: true });
});

/** A folder with the job that `new` writes, a shop, and a round of readings; the sheets are made in it. */
function bench(name: string): string {
  const folder = join(home, name, 'jobs');
  mkdirSync(folder, { recursive: true });
  for (const kind of ['board', 'job'])
    cpSync(repositoryPath(`apps/cli/templates/${kind}.yaml`), join(folder, `my-unit.${kind}.yaml`));
  writeFileSync(join(home, name, 'shop.yaml'), 'shop: 1\nname: Invented Bench\n');
  const job = join(folder, 'my-unit.job.yaml');
  writeFileSync(
    job,
    `${readFileSync(job, 'utf8')}
readings:
  - state: found
    meter: { resistance: 10 MΩ, accuracy: 1 % }
    volts: { Q101.collector: 3.8 V }
measured: { state: rebuilt, at: board, response: { left: left.csv } }
`,
  );
  writeFileSync(join(folder, 'left.csv'), 'Hz,dB\n20,19\n100,13\n1000,0\n10000,-13.5\n20000,-19.5\n');
  return folder;
}

/** The real command in a process of its own. */
function curvewright(words: readonly string[], cwd: string, env: Record<string, string>): SpawnSyncReturns<string> {
  const loader = import.meta.resolve('tsx');
  return spawnSync(process.execPath, ['--import', loader, repositoryPath('apps/cli/src/main.ts'), ...words], {
    ...{ encoding: 'utf8', cwd, env: { ...process.env, ...env } },
  });
}

describe('proof', { timeout: 120_000 }, () => {
  const folder = bench('one');
  const file = (name: string): string => join(folder, `my-unit.${name}`);
  const read = (name: string): string => readFileSync(file(name), 'utf8');
  let made: Ran;
  beforeAll(async () => {
    made = await runLong('proof', file('job.yaml'), '--rework');
  }, 120_000);

  it('writes the sheet, its facts and the rework sheet beside the job', () => {
    expect([made.status, made.complaint]).toEqual([0, '']);
    expect(made.out).toContain(`${file('proof.html')}: look`);
    expect(read('proof.html')).toContain('Invented Bench');
    expect(read('rework.html')).toContain('Rework sheet');
    const facts = JSON.parse(read('proof.json')) as { checkCode: string; measured: Record<string, string[]> };
    expect(read('proof.html')).toContain(facts.checkCode);
    // 19 dB at 20 Hz, where the playback curve has 19.27 dB (IEC 60098): the file's own figures, nothing of the simulation.
    expect(facts.measured['20 Hz']).toEqual(['−0.27', '']);
  });

  it('carries the digests of the bytes of every input, named from its own folder', () => {
    const html = read('proof.html');
    for (const [name, path] of [
      ['my-unit.job.yaml', file('job.yaml')],
      ['my-unit.board.yaml', file('board.yaml')],
      ['left.csv', join(folder, 'left.csv')],
      ['../shop.yaml', join(folder, '../shop.yaml')],
    ] as const) {
      const sha256 = createHash('sha256').update(readFileSync(path)).digest('hex');
      expect(html).toContain(`data-file="${name}" data-sha256="${sha256}"`);
    }
    expect(html).not.toContain(home);
    expect(read('proof.json')).not.toContain(home);
  });

  it.each(['proof', 'rework'])('is valid HTML: %s', async (kind) => {
    const validator = new HtmlValidate(
      new FileSystemConfigLoader({
        root: true,
        extends: ['html-validate:standard', 'html-validate:a11y', 'html-validate:document'],
        // One element a line is written for comparison, not for beauty; the sheet has to carry its style sheet.
        rules: { 'long-title': 'off', 'require-sri': 'off' },
      }),
    );
    const report = await validator.validateString(read(`${kind}.html`));
    expect(
      report.results.flatMap(({ messages }) =>
        messages.map(({ ruleId, message, line }) => `${line} ${ruleId}: ${message}`),
      ),
    ).toEqual([]);
  });

  it('makes the same bytes in another folder, time zone and locale', () => {
    const other = bench('another/deeper');
    const away = { TZ: 'Pacific/Auckland', LANG: 'de_DE.UTF-8', LC_ALL: 'tr_TR.UTF-8' };
    const ran = curvewright(['proof', 'my-unit.job.yaml', '--rework'], other, away);
    expect([ran.status, ran.stderr]).toEqual([0, '']);
    for (const name of ['proof.html', 'proof.json', 'rework.html'])
      expect(readFileSync(join(other, `my-unit.${name}`), 'utf8')).toBe(read(name));
  });

  it('finds a sheet the same, and tells a forged figure', async () => {
    const same = await runLong('proof', '--verify', file('proof.html'));
    expect([same.status, same.complaint]).toEqual([0, '']);
    expect(same.out).toMatch(/^● same/);
    const forged = read('proof.html').replace(/(data-figure="rebuilt L 20 Hz">)[^<]*/, '$1+0.01');
    writeFileSync(file('forged.html'), forged);
    const told = await runLong('proof', '--verify', file('forged.html'));
    expect(told.status).toBe(1);
    expect(told.out).toMatch(/Figure rebuilt L 20 Hz: the sheet has \+0\.01, computed is \+0\.21\./);
  });

  it('tells an input that changed since, and what came of it', async () => {
    const later = bench('later');
    for (const name of ['proof.html']) cpSync(file(name), join(later, `my-unit.${name}`));
    const job = join(later, 'my-unit.job.yaml');
    writeFileSync(job, readFileSync(job, 'utf8').replace('value: 100 µF', 'value: 22 µF'));
    const { status, out } = await runLong('proof', '--verify', join(later, 'my-unit.proof.html'));
    expect(status).toBe(1);
    expect(out).toContain('Input my-unit.job.yaml is not the file that the sheet was made from.');
    expect(out).toMatch(/Figure rebuilt L 20 Hz: the sheet has/);
    expect(out).not.toMatch(/Input my-unit\.board/);
  });

  it('refuses what it cannot prove, with the place', async () => {
    const board = await runLong('proof', file('board.yaml'));
    expect([board.status, board.complaint]).toEqual([2, expect.stringContaining('name a job file')]);
    const nothing = await runLong('proof');
    expect([nothing.status, nothing.complaint]).toEqual([2, expect.stringContaining('name a job file, or a sheet')]);
    const noSheet = await runLong('proof', '--verify', file('rework.css'));
    expect([noSheet.status, noSheet.complaint]).toEqual([2, expect.stringContaining('is not there')]);
    writeFileSync(file('other.html'), '<!DOCTYPE html><title>x</title>');
    const other = await runLong('proof', '--verify', file('other.html'));
    expect([other.status, other.complaint]).toEqual([2, expect.stringContaining('no job is named in it')]);
    rmSync(join(folder, 'left.csv'));
    const unread = await runLong('proof', file('job.yaml'));
    expect([unread.status, unread.complaint]).toEqual([
      2,
      expect.stringMatching(/left\.csv:1:1: the file is not there/),
    ]);
  });
});
