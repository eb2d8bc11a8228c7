import { mkdtempSync, readFileSync, rmSync, writeFileSync, existsSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { repositoryPath, run, runAttended, runJson } from './recording-desk.ts';

const job = repositoryPath('seeds/jobs/lk417.job.yaml');
const board = repositoryPath('seeds/boards/lk417.board.yaml');
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'curvewright-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

describe('check', () => {
  it('answers a job with the fixed keys, all states and a verdict', () => {
    const answer = runJson('check', job) as {
      verdict: string;
      states: Record<string, { assumed: string[]; balanceDb: number; channels: Record<string, unknown>[] } | null>;
      findings: Record<string, unknown>[];
    };
    expect(answer.verdict).toBe('look');
    expect(Object.keys(answer.states)).toEqual(['drawn', 'found', 'rebuilt', 'measured']);
    expect(answer.states.measured).toBeNull();
    const keys = [
      'name',
      'gainDb',
      'worstDeviationDb',
      'worstHz',
      'rolloffHz',
      'rolloffHighHz',
      'subsonicPeaks',
      'points',
      'nodes',
    ];
    for (const state of ['drawn', 'found', 'rebuilt']) {
      expect(answer.states[state]?.channels.map(({ name }) => name)).toEqual(['left', 'right']);
      for (const channel of answer.states[state]?.channels ?? [])
        expect(Object.keys(channel)).toEqual(expect.arrayContaining(keys));
    }
    expect(answer.states.found?.assumed).toContain('R101');
    for (const finding of answer.findings) {
      expect(Object.keys(finding)).toEqual(
        expect.arrayContaining(['level', 'what', 'ref', 'state', 'counts', 'margin', 'unit', 'cause', 'next']),
      );
      expect(finding.counts).toBe(finding.state === 'rebuilt');
    }
  });

  it('lists at least the frequencies of every sheet', () => {
    const { states } = runJson('check', board) as {
      states: { drawn: { channels: { points: { hz: number }[] }[] }; found: unknown; rebuilt: unknown };
    };
    expect(states.drawn.channels[0]?.points.map(({ hz }) => hz)).toEqual(
      expect.arrayContaining([2, 5, 10, 20, 30, 50, 100, 200, 500, 1e3, 2e3, 5e3, 1e4, 1.5e4, 2e4, 5e4, 1e5]),
    );
    expect([states.found, states.rebuilt]).toEqual([null, null]);
  });

  it('prints a page that says the verdict, and ends with status 0 for look', () => {
    const { status, out } = run('check', job);
    expect(status).toBe(0);
    expect(out).toContain('▲ look');
    expect(out).toContain('Fig. 1');
  });

  it('ends with status 1 for fail', () => {
    const path = join(folder, 'fail.board.yaml');
    writeFileSync(path, readFileSync(board, 'utf8').replace('value: 22 µF', 'value: 4.7 µF'));
    expect(run('check', path).status).toBe(1);
  });
});

describe('curve and volts', () => {
  it('answers the frequencies that are asked for, in all channels', () => {
    const { channels } = runJson('curve', board, '--at', '20,1 kHz') as {
      channels: { points: { hz: number; targetDb: number; deviationDb: number; gainDb: number }[] }[];
    };
    expect(channels).toHaveLength(2);
    for (const { points } of channels) {
      const [low, middle] = points;
      expect(points.map(({ hz }) => hz)).toEqual([20, 1000]);
      // RIAA at 20 Hz, computed from the time constants: 19.274 dB.
      expect(low!.targetDb).toBeCloseTo(19.274, 3);
      expect(low!.deviationDb).toBeCloseTo(low!.gainDb - middle!.gainDb - low!.targetDb, 12);
    }
  });

  it('writes a table that any spreadsheet reads', () => {
    const path = join(folder, 'curve.csv');
    expect(run('curve', job, '--state', 'found', '--csv', path).status).toBe(0);
    const rows = readFileSync(path, 'utf8').trimEnd().split('\r\n');
    expect(rows[0]).toBe('hz,state,channel,gain_db,phase_deg,target_db,deviation_db');
    expect(rows.length).toBeGreaterThan(200);
    expect(rows.every((row) => row.split(',').length === 7)).toBe(true);
  });

  it('reads the meter from the job, and from the command', () => {
    expect(runJson('volts', job, '--state', 'found').meterOhms).toBe(10e6);
    expect(runJson('volts', board, '--meter', '200 kΩ').meterOhms).toBe(200e3);
  });

  it.each([
    ['a state that a board does not have', ['curve', board, '--state', 'rebuilt'], /has no state rebuilt/],
    ['a cartridge that is not on the board', ['curve', board, '--cartridge', 'MM-Z'], /MM-A, MM-B/],
    ['an option that is no quantity', ['volts', board, '--meter', '10'], /has no unit/],
    ['a verb that there is not', ['chekc', board], /check/],
  ])('refuses %s', (_, words, expected) => {
    const { status, complaint } = run(...words);
    expect(status).toBe(2);
    expect(complaint).toMatch(expected);
  });

  it('warms every part with --ambient', () => {
    const vbe = (...more: string[]): number => {
      const { channels } = runJson('volts', board, ...more) as {
        channels: { parts: { ref: string; vbeV?: number }[] }[];
      };
      return channels[0]!.parts.find(({ ref }) => ref === 'Q103')!.vbeV!;
    };
    // A silicon junction at constant current falls by about 2 mV a kelvin (common practice, no source).
    expect((vbe('--ambient', '45 °C') - vbe()) / 20).toBeCloseTo(-0.002, 3);
  });
});

describe('new', () => {
  it('writes a board and a job that give a verdict, and never writes over a file', () => {
    const bench = join(folder, 'bench');
    expect(run('new', bench, '--name', 'lk-test').status).toBe(0);
    const path = join(bench, 'lk-test.job.yaml');
    const { status, complaint } = run('check', path);
    expect(complaint).toBe('');
    expect(status).toBe(0);
    writeFileSync(path, 'mine');
    rmSync(join(bench, 'lk-test.board.yaml'));
    const again = run('new', bench, '--name', 'lk-test');
    expect(again.status).toBe(2);
    expect(again.complaint).toMatch(/is there already/);
    expect(readFileSync(path, 'utf8')).toBe('mine');
    expect(existsSync(join(bench, 'lk-test.board.yaml'))).toBe(false);
  });

  it('takes the unit from flags, whatever signs are in them', () => {
    const bench = join(folder, 'flagged');
    const complaint = 'hum: "loud", 1: both';
    expect(run('new', bench, '--model', 'LK {9}', '--serial', '007', '--complaint', complaint).status).toBe(0);
    const { out } = run('check', join(bench, 'my-unit.job.yaml'));
    expect(out).toContain('LK {9}, hum: "loud", 1: both');
    const { jobs } = runJson('jobs', bench) as { jobs: { serial: string }[] };
    expect(jobs[0]!.serial).toBe('007');
  });

  it('asks at a terminal where no flag was given', async () => {
    const bench = join(folder, 'asked');
    const { status, asked } = await runAttended(['lk-9', 'LK 9', '', 'thin', ''], 'new', bench);
    expect(status).toBe(0);
    expect(asked).toHaveLength(5);
    expect(readFileSync(join(bench, 'lk-9.job.yaml'), 'utf8')).toContain('unit: { model: "LK 9" }\n');
    expect((await runAttended([], 'new', join(folder, 'silent'))).asked).toHaveLength(5);
    expect(existsSync(join(folder, 'silent', 'my-unit.job.yaml'))).toBe(true);
  });
});
