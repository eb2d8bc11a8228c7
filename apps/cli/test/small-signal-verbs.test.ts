import { describe, expect, it } from 'vitest';
import { repositoryPath, run, runJson } from './recording-desk.ts';

const job = repositoryPath('seeds/jobs/lk417.job.yaml');
const board = repositoryPath('seeds/boards/lk417.board.yaml');
const opAmpBoard = repositoryPath('seeds/boards/lk630.board.yaml');

interface Noise {
  source: string;
  reference: string;
  channels: { name: string; inputUv: number; inputAWeightedUv: number; shares: { ref: string; share: number }[] }[];
}

describe('noise', () => {
  it('answers with the fixed keys, input shorted where nothing is named', () => {
    const answer = runJson('noise', job) as unknown as Noise;
    expect(answer.source).toBe('shorted');
    expect(answer.reference).toBe('5 mV rms at 1 kHz at the input');
    expect(answer.channels.map(({ name }) => name)).toEqual(['left', 'right']);
    for (const channel of answer.channels) {
      const keys = ['inputUv', 'inputAWeightedUv', 'snrDb', 'snrAWeightedDb', 'shares'];
      expect(Object.keys(channel)).toEqual(expect.arrayContaining(keys));
      expect(channel.inputAWeightedUv).toBeGreaterThan(0);
      expect(channel.shares[0]).toEqual(expect.objectContaining({ ref: expect.any(String) as string }));
    }
    expect(runJson('noise', job, '--source', 'shorted')).toEqual(answer);
  });

  it('takes a resistor or a cartridge as the source, and not both', () => {
    const resistor = runJson('noise', board, '--source', '1 kΩ') as unknown as Noise;
    expect(resistor.source).toBe('1 kΩ');
    expect(resistor.channels[0]!.shares.map(({ ref }) => ref)).toContain('input@left');
    const cartridge = runJson('noise', board, '--cartridge', 'MM-B') as unknown as Noise;
    expect(cartridge.source).toContain('MM-B');
    expect(run('noise', board, '--cartridge', 'MM-B', '--source', '1 kΩ').status).toBe(2);
    expect(run('noise', board, '--source', 'open').status).toBe(2);
    expect(run('noise', board, '--cartridge', 'MM-Z').complaint).toContain('write one of MM-A, MM-B');
  });

  it('prints a page', () => {
    const { status, out } = run('noise', job, '--state', 'found');
    expect(status).toBe(0);
    expect(out).toContain('as found: hiss, input shorted');
  });
});

describe('hum', () => {
  it('answers rail by rail with the fixed keys', () => {
    const { rails } = runJson('hum', opAmpBoard) as {
      rails: { rail: string; channels: { name: string; points: { hz: number; db: number }[]; outputMv: number }[] }[];
    };
    expect(rails.map(({ rail }) => rail)).toEqual(['vcc', 'vee']);
    for (const { channels } of rails) {
      expect(channels.map(({ name }) => name)).toEqual(['left', 'right']);
      for (const { points, outputMv } of channels) {
        expect(points.map(({ hz }) => hz)).toEqual(expect.arrayContaining([20, 100, 200, 300, 20_000]));
        expect(outputMv).toBeGreaterThan(0);
      }
    }
    expect(run('hum', job).out).toContain('louder without');
  });
});

describe('crosstalk', () => {
  it('answers both directions from 20 Hz to 20 kHz', () => {
    const { points } = runJson('crosstalk', board) as {
      points: { hz: number; from: string; to: string; db: number }[];
    };
    const at = points.filter(({ hz }) => hz === 1000);
    expect(at.map(({ from, to }) => `${from} ${to}`)).toEqual(['left right', 'right left']);
    for (const { db } of points) expect(db).toBeGreaterThan(20);
    expect(run('crosstalk', job).out).toContain('not modelled');
  });
});

describe('loading', () => {
  it("answers for the board's first cartridge, or the one that is named", () => {
    const first = runJson('loading', board) as {
      cartridge: { name: string };
      channels: {
        points: { hz: number; ohms: number }[];
        capacitanceF: number;
        response: { hz: number; db: number }[];
      }[];
    };
    expect(first.cartridge.name).toBe('MM-A');
    expect(first.channels[0]!.points.find(({ hz }) => hz === 1000)!.ohms).toBeGreaterThan(40e3);
    expect(first.channels[0]!.capacitanceF).toBeGreaterThan(0);
    expect(first.channels[0]!.response.length).toBe(first.channels[0]!.points.length);
    expect(run('loading', board, '--cartridge', 'MM-B').out).toContain('MM-B resonates at');
    expect(run('loading', board, '--cartridge', 'MM-Z').status).toBe(2);
  });
});
