import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeWav } from '@curvewright/capture';
import { clicks, recordingOf, telegraph } from '../../../packages/capture/test/pops/planted.ts';
import { recordingDesk, repositoryPath, runLong } from './recording-desk.ts';
import { runCommandLine } from '../src/command-line.ts';

const rate = 44_100;
const job = repositoryPath('seeds/jobs/lk417.job.yaml');
let folder = '';
const file = (name: string): string => join(folder, name);

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'curvewright-pops-'));
  const background = (seed: number) => ({ rate, seed, white: 1e-4, flicker: 2e-5 });
  const left = recordingOf(background(1), 20);
  const popping = recordingOf(background(2), 20, clicks([2, 4, 6, 8, 10, 11, 12], 0.01), telegraph([14, 16], -0.01));
  const mended = [left, recordingOf(background(3), 20)];
  const write = (name: string, channels: Float64Array[]): void => {
    writeFileSync(file(name), writeWav({ rate, bits: 24, format: 'pcm', channels }));
  };
  write('before.wav', [left, popping]);
  write('after.wav', mended);
  write('mono.wav', [popping]);
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

interface Answer {
  readonly channels: readonly {
    readonly name: string;
    readonly minutes: number;
    readonly count: number;
    readonly ratePerMin: number;
    readonly rateHighPerMin: number;
    readonly hits: readonly { readonly s: number; readonly uv: number | null; readonly kind: string }[];
  }[];
  readonly before: { readonly changes: readonly { readonly name: string; readonly verdict: string }[] } | null;
  readonly leftMinutes: number;
}

async function answer(...words: string[]): Promise<Answer> {
  const { status, out, complaint } = await runLong('pops', ...words, '--json');
  expect([status, complaint]).toEqual([0, '']);
  return JSON.parse(out) as Answer;
}

describe('pops', () => {
  it('answers with the fixed keys', async () => {
    const { channels } = await answer(file('before.wav'), '--recorder', '1 V', '--gain', '40 dB');
    const [left, right] = channels;
    expect(left).toMatchObject({ name: 'left', minutes: 1 / 3, count: 0, ratePerMin: 0, hits: [] });
    expect(left!.rateHighPerMin).toBeCloseTo(3 * 2.9957, 3);
    expect(right).toMatchObject({ name: 'right', count: 9, ratePerMin: 27 });
    expect(right!.hits.map(({ kind }) => kind)).toEqual([...Array.from({ length: 7 }, () => 'click'), 'step', 'step']);
    expect(right!.hits.map(({ s }) => Number(s.toFixed(2)))).toEqual([2, 4, 6, 8, 10, 11, 12, 14, 16]);
    // 0.01 of √2 V, over 100; the noise is 1 % of it, the level of a step less sure.
    for (const { uv } of right!.hits) expect(Math.abs(Math.abs(uv!) / (100 * Math.SQRT2) - 1)).toBeLessThan(0.06);
  });

  it("takes the gain of the job's board", async () => {
    const stated = await answer(file('before.wav'), '--recorder', '1 V', '--gain', '40 dB');
    const { channels } = await answer(file('before.wav'), '--recorder', '1 V', '--job', job, '--state', 'drawn');
    const [a, b] = [stated, { channels }].map((each) => each.channels[1]!.hits[0]!.uv!);
    const gainDb = (channels[1] as unknown as { gainDb: number }).gainDb;
    expect(gainDb).toBeGreaterThan(30);
    expect(b! / a!).toBeCloseTo(10 ** ((40 - gainDb) / 20), 9);
  });

  it('has no µV without a calibration', async () => {
    const { channels } = await answer(file('mono.wav'));
    expect(channels).toHaveLength(1);
    expect(channels[0]).toMatchObject({ name: 'mono', count: 9 });
    expect(channels[0]!.hits[0]!.uv).toBeNull();
  });

  it('compares with the recording from before', async () => {
    const { before } = await answer(file('after.wav'), '--before', file('before.wav'));
    expect(before!.changes).toMatchObject([
      { name: 'left', verdict: 'no change shown' },
      { name: 'right', verdict: 'fewer' },
    ]);
    const { out } = await runLong('pops', file('after.wav'), '--before', file('before.wav'));
    expect(out).toMatch(/right: 9 before, 0 after: fewer/);
    expect(out).toMatch(/left: 0 in 0.33 min: below 9 per minute, 95 %/);
  });

  it('finds fewer above a higher threshold', async () => {
    const { channels } = await answer(file('mono.wav'), '--threshold', '200');
    expect(channels[0]!.hits.every(({ kind }) => kind === 'step')).toBe(true);
  });

  it('draws every channel', async () => {
    const drawings = join(folder, 'drawings');
    expect((await runLong('pops', file('before.wav'), '--drawings', drawings)).status).toBe(0);
    expect(readdirSync(drawings).toSorted()).toEqual(['pops-left.svg', 'pops-right.svg']);
    const taken = await runLong('pops', file('before.wav'), '--drawings', file('mono.wav'));
    expect(taken).toMatchObject({ status: 2, out: '' });
  });

  it('ends early when it is asked to, with what is done', async () => {
    const { desk, said } = recordingDesk();
    let told = 0;
    const interrupted = { ...desk, progress: () => void (++told === 2 && process.emit('SIGINT')) };
    expect(await runCommandLine(['pops', file('before.wav'), '--json'], interrupted)).toBe(0);
    const { channels, leftMinutes } = JSON.parse(said().out) as Answer;
    expect(leftMinutes).toBeGreaterThan(0.1);
    expect(channels[1]!.minutes + leftMinutes).toBeCloseTo(1 / 3, 9);
    expect(channels[1]!.hits.every(({ s }) => s < 60 * channels[1]!.minutes)).toBe(true);
  });

  it.each([
    ['a file that is not there', ['nowhere.wav'], /nowhere.wav:1:1: the file is not there/],
    ['a file that is no recording', [job], /lk417.job.yaml:1:1: the file /],
    ['a before that is not there', ['after.wav', '--before', 'nowhere.wav'], /nowhere.wav:1:1/],
    ['a job that is not there', ['after.wav', '--job', 'nowhere.job.yaml'], /nowhere.job.yaml:1:1/],
    ['a job beside a gain', ['after.wav', '--job', job, '--gain', '40 dB'], /cannot be used with/],
    ['a threshold within the noise', ['after.wav', '--threshold', '3'], /above 4/],
  ])('refuses %s', async (_, words, expected) => {
    const named = words.map((word) => (word.endsWith('.wav') ? file(word) : word));
    const { status, out, complaint } = await runLong('pops', ...named);
    expect([status, out]).toEqual([2, '']);
    expect(complaint).toMatch(expected);
  });

  it('refuses a recording without sound, and says so as data', async () => {
    writeFileSync(file('empty.wav'), writeWav({ rate, bits: 16, format: 'pcm', channels: [new Float64Array(0)] }));
    const { status, out } = await runLong('pops', file('empty.wav'), '--json');
    expect(status).toBe(2);
    expect(JSON.parse(out)).toMatchObject({ errors: [{ code: 'unreadable-file', line: 1 }] });
  });
});
