import { describe, expect, it } from 'vitest';
import { repositoryPath, run, runJson } from './recording-desk.ts';

const job = repositoryPath('seeds/jobs/lk417.job.yaml');
const board = repositoryPath('seeds/boards/lk417.board.yaml');

interface Chart {
  readonly title: string;
  readonly meterOhms: number;
  readonly channels: readonly { readonly nodes: readonly { readonly node: string; readonly volts: number }[] }[];
  readonly rails: readonly { readonly rail: string; readonly volts: number; readonly amps: number }[];
}

const chart = (...words: readonly string[]): Chart => runJson('volts', ...words) as unknown as Chart;

describe('--rail', () => {
  it('puts a rail at other volts, in any state of a job', () => {
    for (const words of [[board], [job], [job, '--state', 'found']]) {
      const { rails } = chart(...words, '--rail', 'vcc=20 V');
      // 20 V less what flows through the 1 Ω of the rail.
      expect(rails[0]!.volts).toBeCloseTo(20 - rails[0]!.amps, 9);
    }
  });

  it('moves the verdict and the curve', () => {
    const verdict = (...more: readonly string[]): unknown => runJson('check', board, ...more).verdict;
    expect(verdict('--rail', 'vcc=4 V')).not.toBe(verdict());
    const gain = (...more: readonly string[]): unknown => runJson('curve', board, '--at', '1000', ...more).channels;
    expect(gain('--rail', 'vcc=20 V')).not.toEqual(gain());
    expect(gain('--rail', 'vcc=31 V')).toEqual(gain());
  });

  it('may be said for each rail, and is told in the title', () => {
    const two = repositoryPath('seeds/boards/lk630.board.yaml');
    const { rails, title } = chart(two, '--rail', 'vcc=12 V', '--rail', 'vee=-12 V', '--ambient', '40 °C');
    expect(rails.map(({ volts }) => Number(volts.toFixed(1)))).toEqual([12, -12]);
    expect(title).toMatch(/, at 40 °C, vcc at 12 V, vee at −12 V$/);
    expect(chart(two).title).not.toContain(' at ');
  });

  it.each([
    ['a rail that the board does not have', 'vdd=20 V', /no rail vdd on this board; write one of vcc/],
    ['volts without a unit', 'vcc=20', /write its unit too/],
    ['a rail without volts', 'vcc', /vcc=20 V/],
    ['ohms', 'vcc=20 Ω', /is a resistance/],
  ])('refuses %s', (_, rail, expected) => {
    for (const verb of ['check', 'curve', 'volts']) {
      for (const file of [board, job]) {
        const { status, complaint } = run(verb, file, '--rail', rail);
        expect(status).toBe(2);
        expect(complaint).toMatch(expected);
      }
    }
  });

  it('refuses an unknown rail as data, too', () => {
    expect(runJson('volts', job, '--rail', 'x=1 V').errors).toMatchObject([{ code: 'unknown-rail', line: 1 }]);
  });
});

describe('--meter', () => {
  it('takes a resistance, or a sensitivity with its range', () => {
    expect(chart(board, '--meter', '1 MΩ').meterOhms).toBe(1e6);
    expect(chart(board, '--meter', '20 kΩ/V', '--range', '10 V').meterOhms).toBe(200e3);
    expect(chart(job, '--state', 'found', '--meter', '20 kΩ/V', '--range', '50 V').meterOhms).toBe(1e6);
  });

  it.each([
    ['a sensitivity without its range', ['--meter', '20 kΩ/V'], /write --range/],
    ['a range without a sensitivity', ['--range', '10 V'], /leave --range out/],
    ['a range beside a resistance', ['--meter', '10 MΩ', '--range', '10 V'], /leave --range out/],
    ['a meter that is a wire', ['--meter', '0 Ω'], /above 0/],
    ['a range of nothing', ['--meter', '20 kΩ/V', '--range', '0 V'], /above 0/],
  ])('refuses %s', (_, words, expected) => {
    const { status, complaint } = run('volts', board, ...words);
    expect(status).toBe(2);
    expect(complaint).toMatch(expected);
  });
});
