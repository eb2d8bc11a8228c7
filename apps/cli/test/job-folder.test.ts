import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { repositoryPath, run, runJson } from './recording-desk.ts';

const board = repositoryPath('seeds/boards/lk417.board.yaml');

/** A folder with two usable jobs, a faulty one, a board, a hidden folder and something else. */
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'curvewright-jobs-'));
  mkdirSync(join(folder, 'older'));
  mkdirSync(join(folder, '.hidden'));
  const job = (title: string, ...lines: string[]): string =>
    [`job: 1`, `title: ${title}`, `board: ${board}`, ...lines].join('\n');
  const unit = (made: number): string => `unit: { serial: S${made}, made: ${made} }`;
  const pulled = (farads: string, esr: string): string =>
    `  C103: { pulled: { value: ${farads}, esr: ${esr}, faults: [dried] } }`;
  writeFileSync(
    join(folder, 'b.job.yaml'),
    job('second', unit(1971), 'date: 2026-05-02', 'positions:', pulled('4 µF', '60 Ω')),
  );
  writeFileSync(
    join(folder, 'older', 'a.job.yaml'),
    job(
      'first',
      unit(1976),
      'date: 2024-05-02',
      'positions:',
      pulled('11 µF', '20 Ω'),
      '  C104: { pulled: { value: 22 µF } }',
    ),
  );
  writeFileSync(join(folder, 'c.job.yaml'), job('third', 'positions:', '  C999: { why: no such place }'));
  writeFileSync(join(folder, '.hidden', 'd.job.yaml'), job('hidden'));
  writeFileSync(join(folder, 'notes.yaml'), 'shopping: [solder]\n');
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

describe('jobs', { timeout: 120_000 }, () => {
  it('lists every job with state and verdict, and the one that cannot be used with its fault', () => {
    const { jobs } = runJson('jobs', folder) as {
      jobs: { file: string; title: string; states: string[]; verdict: string | null; trouble: string | null }[];
    };
    expect(jobs.map(({ file, verdict }) => [file, verdict])).toEqual([
      ['b.job.yaml', 'fail'],
      ['c.job.yaml', null],
      ['older/a.job.yaml', 'fail'],
    ]);
    expect(jobs[0]).toMatchObject({ title: 'second', states: ['found'], trouble: null });
    expect(jobs[1]!.trouble).toMatch(/c\.job\.yaml:5:3: .*C999/);
    const { out, status } = run('jobs', folder);
    expect(status).toBe(0);
    expect(out).toContain('3 jobs');
    expect(out).toContain('✕ fail');
  });

  it('says where to start in an empty folder, and refuses what is no folder', () => {
    expect(run('jobs', join(folder, '.hidden', '..', '.hidden')).out).toContain('1 job');
    expect(run('jobs', join(folder, 'nowhere'))).toMatchObject({ status: 2, out: '' });
    mkdirSync(join(folder, 'empty'));
    expect(run('jobs', join(folder, 'empty')).out).toContain('curvewright new');
  });
});

interface History {
  jobs: number;
  leftOut: number;
  readings: { ref: string; ageYears: number; valueRatio: number; esrOhms: number | null; faults: string[] }[];
  groups: {
    make: string;
    decade: number;
    pulled: number;
    valueRatio: { count: number; low: number; median: number; high: number };
  }[];
}

describe('history', { timeout: 60_000 }, () => {
  it('answers for a designator from all jobs, with the age of the unit', () => {
    const answer = runJson('history', 'C103', folder) as unknown as History;
    expect(answer).toMatchObject({ jobs: 2, leftOut: 1 });
    expect(answer.readings.map(({ ref, ageYears, esrOhms }) => [ref, ageYears, esrOhms])).toEqual([
      ['C103', 55, 60],
      ['C103', 48, 20],
    ]);
    expect(answer.readings[0]!.valueRatio).toBeCloseTo(4 / 22, 12);
    expect(answer.readings[0]!.faults).toEqual(['dried']);
  });

  it('answers for a pair, a build and a kind, grouped by make and decade', () => {
    for (const asked of ['C103/C104', 'aluminium', 'capacitor']) {
      const { groups } = runJson('history', asked, folder) as unknown as History;
      expect(groups.map(({ make, decade, pulled }) => [make, decade, pulled])).toEqual([
        ['aluminium', 40, 2],
        ['aluminium', 50, 1],
      ]);
      expect(groups[0]!.valueRatio).toEqual({ count: 2, low: 0.5, median: 0.75, high: 1 });
    }
  });

  it('names the job that it had to leave out, and says so where nothing was pulled', () => {
    const { complaint, out, status } = run('history', 'C103', folder);
    expect(status).toBe(0);
    expect(complaint).toMatch(/c\.job\.yaml:5:3/);
    expect(out).toContain('2 pulled parts in 2 jobs');
    expect(run('history', 'mica', folder).out).toContain('0 pulled parts');
  });
});
