import { describe, expect, it } from 'vitest';
import { repositoryPath, run, runJson } from './recording-desk.ts';

interface Answer {
  readonly channels: readonly {
    readonly name: string;
    readonly parts: readonly {
      readonly ref: string;
      readonly parameter: string;
      readonly gainDbPerPercent: number;
      readonly deviationDbPerPercent: readonly { readonly hz: number; readonly db: number }[];
      readonly nodeMvPerPercent: readonly { readonly node: string; readonly mv: number }[];
    }[];
  }[];
}

describe('influence', () => {
  const job = repositoryPath('seeds/jobs/lk417.job.yaml');
  const influence = (...more: string[]): Answer => runJson('influence', job, ...more) as unknown as Answer;

  it('answers with the fixed keys at the frequencies asked for', () => {
    const { channels } = influence('--at', '20,10000');
    expect(channels.map(({ name }) => name)).toEqual(['left', 'right']);
    for (const { parts } of channels) {
      for (const part of parts) {
        expect(Object.keys(part)).toEqual(
          expect.arrayContaining(['ref', 'parameter', 'gainDbPerPercent', 'deviationDbPerPercent', 'nodeMvPerPercent']),
        );
        expect(part.deviationDbPerPercent.map(({ hz }) => hz)).toEqual([20, 10_000]);
        expect(part.nodeMvPerPercent.every(({ node }) => !node.includes('@'))).toBe(true);
      }
    }
    const named = channels[0]!.parts.map(({ ref, parameter }) => `${ref} ${parameter}`);
    for (const each of ['C111 value', 'Q103 hFE', 'Q103 VBE', 'Q103 early_voltage', 'C103 esr'])
      expect(named).toContain(each);
  });

  it('agrees with the curve and the chart of a board whose supply is moved by a percent', () => {
    const board = repositoryPath('seeds/boards/lk417.board.yaml');
    const at = (volts: number): { gainDb: number; c2: number } => {
      const rail = ['--rail', `vcc=${volts} V`];
      const curve = runJson('curve', board, '--at', '1000', ...rail) as {
        channels: { points: { gainDb: number }[] }[];
      };
      const chart = runJson('volts', board, ...rail) as { channels: { nodes: { node: string; volts: number }[] }[] };
      return {
        gainDb: curve.channels[0]!.points[0]!.gainDb,
        c2: chart.channels[0]!.nodes.find(({ node }) => node === 'c2')!.volts,
      };
    };
    const { channels } = runJson('influence', board) as unknown as {
      channels: { supplyAndLoad: Answer['channels'][number]['parts'] }[];
    };
    const row = channels[0]!.supplyAndLoad.find(({ ref, parameter }) => ref === 'vcc' && parameter === 'volts')!;
    const [above, below] = [at(31 * 1.001), at(31 * 0.999)];
    // 0.2 % from side to side; the difference's own error falls with the square of 0.1 %.
    expect(row.gainDbPerPercent / ((above.gainDb - below.gainDb) / 0.2)).toBeCloseTo(1, 4);
    const mv = row.nodeMvPerPercent.find(({ node }) => node === 'c2')!.mv;
    expect(mv / ((1000 * (above.c2 - below.c2)) / 0.2)).toBeCloseTo(1, 4);
  });

  it('takes a state, a source and a cartridge', () => {
    expect(run('influence', job, '--state', 'found').out).toMatch(/as found: what one percent more/);
    expect(run('influence', job, '--source', '1 kΩ').status).toBe(0);
    expect(run('influence', job, '--cartridge', 'MM-A').status).toBe(0);
    expect(run('influence', job, '--source', '1 kΩ', '--cartridge', 'MM-A').status).toBe(2);
  });
});
