import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { repositoryPath, runLong } from './recording-desk.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'suspect-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

function jobFile(name: string, rest: string): string {
  const file = join(folder, name);
  const board = repositoryPath('seeds/boards/lk630.board.yaml');
  writeFileSync(file, `job: 1\ntitle: invented, one channel silent\nboard: ${board}\n${rest}\n`);
  return file;
}

interface Answer {
  readonly answer: string;
  readonly state: string;
  readonly suspects: readonly {
    readonly faults: readonly {
      readonly ref: string;
      readonly fault: string;
      readonly value: number | null;
      readonly unit: string | null;
    }[];
    readonly probability: number;
  }[];
  readonly next: readonly {
    readonly action: string;
    readonly where: string;
    readonly minutes: number;
    readonly caution: string;
    readonly outcomes: readonly unknown[];
  }[];
}

/** A whole board's faults are solved. */
const patience = { timeout: 60_000 };

describe('suspect', patience, () => {
  it('answers with the fixed keys, probabilities that add up to no more than 1', async () => {
    const file = jobFile(
      'output.job.yaml',
      'readings: [{ state: found, meter: { resistance: 10 MΩ, accuracy: 1 % }, volts: { o@left: 13.4 V, out@left: 0 V, o@right: 0 V } }]',
    );
    const { out, status } = await runLong('suspect', file, '--json');
    expect(status).toBe(0);
    const answer = JSON.parse(out) as Answer;
    expect(answer.answer).toBe('suspects');
    expect(answer.state).toBe('found');
    const [first] = answer.suspects;
    expect(first!.faults[0]!.ref).toBe('U101A');
    expect(Object.keys(first!.faults[0]!)).toEqual(expect.arrayContaining(['ref', 'fault', 'value', 'unit']));
    expect(answer.suspects.reduce((sum, { probability }) => sum + probability, 0)).toBeLessThanOrEqual(1 + 1e-9);
    for (const step of answer.next) {
      expect(step.minutes).toBeGreaterThan(0);
      expect(step.caution.length).toBeGreaterThan(10);
      expect(step.outcomes.length).toBeGreaterThan(0);
    }
  });

  it('prints the suspects, the readings beside the predictions, and the next step with its caution', async () => {
    const file = jobFile('silent.job.yaml', 'readings: [{ state: found, heard: [{ what: no sound, channel: left }] }]');
    const { out, status } = await runLong('suspect', file);
    expect(status).toBe(0);
    expect(out).toContain('as found: suspects');
    expect(out).toMatch(/Suspected first: \S+/);
    expect(out).toContain('What to do next');
    expect(out).toContain('Mind: ');
    expect(out).toContain('There are no readings yet');
  });

  it('takes a measured response from its table', async () => {
    // Rows of the playback curve, from memory, with 12 dB less bass on the left.
    const rows = [
      [20, 19.3],
      [50, 17],
      [100, 13.1],
      [500, 2.6],
      [1000, 0],
      [5000, -8.2],
      [10_000, -13.7],
    ] as const;
    const table = (loss: number): string =>
      ['Hz,dB', ...rows.map(([hz, db]) => `${hz},${db - (hz < 200 ? loss * Math.log10(200 / hz) : 0)}`)].join('\n');
    writeFileSync(join(folder, 'left.csv'), table(12));
    writeFileSync(join(folder, 'right.csv'), table(0));
    const file = jobFile(
      'curve.job.yaml',
      'measured: { state: found, at: board, response: { left: left.csv, right: right.csv } }',
    );
    const { out } = await runLong('suspect', file, '--json');
    const answer = JSON.parse(out) as Answer & { readonly readings: readonly unknown[] };
    expect(answer.readings).toHaveLength(2 * rows.length);
    expect(answer.suspects[0]!.faults[0]!.ref).toMatch(/[13579]$/);
  });

  it('refuses a board alone, and a level of a channel that is not there', async () => {
    const alone = await runLong('suspect', repositoryPath('seeds/boards/lk630.board.yaml'));
    expect(alone.status).toBe(2);
    expect(alone.complaint).toContain('name a job file with readings');
    const file = jobFile('hiss.job.yaml', 'readings: [{ state: found, hiss: { middle: 1 µV } }]');
    const { status, complaint } = await runLong('suspect', file);
    expect(status).toBe(2);
    expect(complaint).toMatch(/hiss\.job\.yaml:4:\d+: there is no channel middle/);
  });
});
