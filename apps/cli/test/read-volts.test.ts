import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { repositoryPath, run, runJson } from './recording-desk.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'curvewright-read-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

/** A job of the demo board, invented, with these rounds of readings. */
function jobWith(...rounds: string[]): string {
  const path = join(folder, 'x.job.yaml');
  const board = repositoryPath('seeds/boards/lk417.board.yaml');
  const lines = [
    'job: 1',
    'title: invented',
    `board: ${board}`,
    'readings:',
    ...rounds.map((each) => `  - { ${each} }`),
  ];
  writeFileSync(path, `${lines.join('\n')}\n`);
  return path;
}

const cold = 'state: rebuilt, on_for: 2 min, volts: { Q101.collector: 3.03 V, e2@left: 2.4 V }';
const warm = 'state: rebuilt, on_for: 1 h, volts: { Q101.collector: 3.20 V }';

describe('volts of a job with readings', () => {
  it('shows what was read beside what that meter would read', () => {
    const path = jobWith(
      'state: rebuilt, meter: { sensitivity: 20 kΩ/V, range: 10 V, accuracy: 3 % }, volts: { Q101.collector: 2.2 V }',
    );
    const { read, channels } = runJson('volts', path) as {
      read: { onForS: number | null; readings: { name: string; read: number; predicted: number }[] }[];
      channels: { nodes: { node: string; volts: number; meterVolts: number }[] }[];
    };
    const chart = channels[0]!.nodes.find(({ node }) => node === 'c1')!;
    expect(read).toHaveLength(1);
    expect(read[0]).toMatchObject({ onForS: null, readings: [{ name: 'Q101.collector', read: 2.2 }] });
    expect(read[0]!.readings[0]!.predicted).toBeCloseTo(chart.meterVolts, 9);
    expect(chart.volts - chart.meterVolts).toBeGreaterThan(0.1);
    expect(run('volts', path).out).toMatch(/as read +read +computed +off/);
  });

  it('compares a second round after warm-up with the first, in whatever order they stand', () => {
    for (const rounds of [
      [cold, warm],
      [warm, cold],
    ]) {
      const { warm: moved } = runJson('volts', jobWith(...rounds)) as { warm: unknown };
      expect(moved).toEqual([{ name: 'Q101.collector', first: 3.03, last: 3.2, seconds: 3480 }]);
    }
    expect(run('volts', jobWith(cold, warm)).out).toMatch(/Q101\.collector +3\.03 V +3\.20 V +\+170 mV +in 58 min/);
    expect((runJson('volts', jobWith(cold)) as { warm: unknown }).warm).toEqual([]);
  });

  it('leaves out what was read of another state, and refuses a time that is none', () => {
    expect((runJson('volts', jobWith(cold.replace('rebuilt', 'found'))) as { read: unknown }).read).toEqual([]);
    const { status, complaint } = run('volts', jobWith(cold.replace('2 min', 'a while')));
    expect(status).toBe(2);
    expect(complaint).toMatch(/x\.job\.yaml:5:\d+: .*a while has the wrong form; write 60 min or 1 h/);
  });
});
