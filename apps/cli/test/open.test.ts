import { spawn, type ChildProcessByStdio } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { createServer } from 'node:net';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { repositoryPath, runLong } from './recording-desk.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'curvewright-open-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

type Open = ChildProcessByStdio<null, Readable, null>;

/** The real command in a process of its own, until it says where the bench is. */
async function open(...words: string[]): Promise<{ child: Open; said: string; address: string }> {
  const args = [
    '--import',
    createRequire(import.meta.url).resolve('tsx'),
    repositoryPath('apps/cli/src/main.ts'),
    'open',
    ...words,
  ];
  const child = spawn(process.execPath, args, { cwd: folder, stdio: ['ignore', 'pipe', 'ignore'] });
  child.stdout.setEncoding('utf8');
  let said = '';
  for await (const part of child.stdout.iterator({ destroyOnReturn: false }) as AsyncIterable<string>) {
    said += part;
    if (said.includes('Ctrl-C')) break;
  }
  return { child, said, address: /http:\/\/\S+/.exec(said)?.[0] ?? '' };
}

async function end(child: Open, signal: 'SIGINT' | 'SIGTERM'): Promise<number | null> {
  child.kill(signal);
  const [status] = (await once(child, 'exit')) as [number | null];
  return status;
}

describe('open', () => {
  it('makes a bench in the folder where it is called, serves its page and files, and ends at Ctrl-C', async () => {
    const { child, said, address } = await open();
    const bench = join(folder, 'curvewright-bench');
    expect(said).toContain(`The bench is open on ${bench}, new: 8 files to begin with, all invented.`);
    const page = await fetch(address);
    expect(await page.text()).toContain('<title>Curvewright</title>');
    const token = new URL(address).hash.slice(1);
    const listed = await fetch(new URL('/api/files', address), { headers: { 'x-bench-token': token } });
    const { files } = (await listed.json()) as { files: { path: string }[] };
    expect(files.map(({ path }) => path)).toContain('jobs/lk417.job.yaml');

    // A page that listens does not keep it from ending.
    await fetch(new URL(`/api/events?token=${token}`, address));
    expect(await end(child, 'SIGINT')).toBe(0);

    const job = readFileSync(join(bench, 'jobs/lk417.job.yaml'), 'utf8');
    const again = await open('curvewright-bench');
    expect(again.said).toContain(`The bench is open on ${bench}.\n`);
    expect(readFileSync(join(bench, 'jobs/lk417.job.yaml'), 'utf8')).toBe(job);
    expect(await end(again.child, 'SIGTERM')).toBe(0);
  }, 60_000);

  it('says that a port is in use, and ends with 2', async () => {
    const taken = createServer().listen(0, '127.0.0.1');
    await once(taken, 'listening');
    const { port } = taken.address() as AddressInfo;
    expect(await runLong('open', join(folder, 'other'), '--port', String(port))).toEqual({
      status: 2,
      out: '',
      complaint: `port ${port} is in use; name another with --port, or leave it out to take a free one`,
    });
    taken.close();
  }, 60_000);

  it('says that a folder is none, and ends with 2', async () => {
    const file = repositoryPath('seeds/drawer.csv');
    expect(await runLong('open', file)).toEqual({
      status: 2,
      out: '',
      complaint: `${file} lies below a file; name a folder there`,
    });
  });

  it('takes a port that there is', async () => {
    for (const port of ['0', '65536', 'x', '80.5']) expect((await runLong('open', '--port', port)).status).toBe(2);
    expect(readdirSync(folder)).not.toContain('x');
  });
});
