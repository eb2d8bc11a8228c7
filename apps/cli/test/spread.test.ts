import { spawn, spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { repositoryPath, run, runLong } from './recording-desk.ts';

const board = repositoryPath('seeds/boards/lk630.board.yaml');
const job = repositoryPath('seeds/jobs/lk417.job.yaml');

interface Spread {
  readonly title: string;
  readonly state: string;
  readonly asked: number;
  readonly boards: number;
  readonly seed: number;
  readonly yield: number;
  readonly balance: { readonly highDb: number } | null;
  readonly channels: readonly {
    readonly name: string;
    readonly bands: readonly { hz: number; lowDb: number; medianDb: number; highDb: number }[];
    readonly nodes: readonly { node: string; lowV: number; highV: number }[];
  }[];
}

async function spread(...words: string[]): Promise<Spread> {
  const { status, out, complaint } = await runLong('spread', ...words, '--json');
  expect([status, complaint]).toEqual([0, '']);
  return JSON.parse(out) as Spread;
}

describe('spread', () => {
  it('answers with the fixed keys', async () => {
    const answer = await spread(job, '--boards', '150', '--seed', '7');
    expect(answer).toMatchObject({ state: 'rebuilt', asked: 150, boards: 150, seed: 7 });
    expect(answer.yield).toBeGreaterThanOrEqual(0);
    expect(answer.yield).toBeLessThanOrEqual(1);
    expect(answer.balance!.highDb).toBeGreaterThan(0);
    expect(answer.channels.map(({ name }) => name)).toEqual(['left', 'right']);
    for (const { bands, nodes } of answer.channels) {
      expect(bands.map(({ hz }) => hz)).toEqual(expect.arrayContaining([2, 20, 30, 1000, 15_000, 100_000]));
      for (const { lowDb, medianDb, highDb } of bands) {
        expect(lowDb).toBeLessThanOrEqual(medianDb);
        expect(medianDb).toBeLessThanOrEqual(highDb);
      }
      expect(nodes.map(({ node }) => node)).toEqual(expect.arrayContaining(['b1', 'vdd']));
    }
  });

  it('gives the same answer in one, two or four threads', async () => {
    const words = [board, '--boards', '450', '--seed', '3'];
    const alone = await spread(...words, '--workers', '1');
    expect(await spread(...words, '--workers', '2')).toEqual(alone);
    expect(await spread(...words, '--workers', '4')).toEqual(alone);
    expect(await spread(board, '--boards', '450', '--seed', '4')).not.toEqual(alone);
  }, 60_000);

  it('draws any state of a job', async () => {
    expect((await spread(job, '--boards', '20', '--state', 'drawn')).state).toBe('drawn');
    expect((await spread(job, '--boards', '20', '--state', 'found')).state).toBe('found');
  });

  it('prints a page', async () => {
    const { status, out } = await runLong('spread', board, '--boards', '40');
    expect(status).toBe(0);
    expect(out).toMatch(/of 40 boards keep every limit/);
  });

  it.each([
    ['--boards', '0', /whole number from 1 to/],
    ['--boards', '1e3', /whole number/],
    ['--seed', '-1', /whole number from 0/],
    ['--seed', '4294967296', /whole number/],
    ['--workers', '0', /whole number from 1/],
  ])('refuses %s %s', (option, value, expected) => {
    const { status, complaint } = run('spread', board, option, value);
    expect(status).toBe(2);
    expect(complaint).toMatch(expected);
  });

  it('refuses an unusable file', async () => {
    const { status, complaint } = await runLong('spread', repositoryPath('fixtures/broken/no-bias.board.yaml'));
    expect(status).toBe(2);
    expect(complaint).toMatch(/^\S+:\d+:\d+: /);
  });
});

describe('Ctrl-C', () => {
  const words = (boards: number): string[] => [
    ...['--import', 'tsx', repositoryPath('apps/cli/src/main.ts')],
    ...['spread', board, '--boards', String(boards), '--workers', '2', '--json'],
  ];
  const place = { cwd: repositoryPath('') };

  it('gives what is done so far, with the count', async () => {
    // How long the process takes to get to its boards; the boards asked for take many times as long.
    const start = performance.now();
    expect(spawnSync(process.execPath, words(1), place).status).toBe(0);
    const patience = 1.5 * (performance.now() - start) + 500;

    const running = spawn(process.execPath, words(200_000), place);
    let [out, complaint] = ['', ''];
    running.stdout.on('data', (data: Buffer) => (out += data.toString()));
    running.stderr.on('data', (data: Buffer) => (complaint += data.toString()));
    setTimeout(() => running.kill('SIGINT'), patience);
    const status = await new Promise((resolve) => running.on('close', resolve));
    expect([status, complaint]).toEqual([0, '']);
    const { asked, boards, yield: share } = JSON.parse(out) as Spread;
    expect(asked).toBe(200_000);
    expect(boards).toBeGreaterThan(0);
    expect(boards).toBeLessThan(asked);
    expect(share).toBeGreaterThan(0);
  }, 60_000);
});
