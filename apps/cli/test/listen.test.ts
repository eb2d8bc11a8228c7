import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { readSignalPlan, writeWav, type Wav } from '@curvewright/capture';
import { madeRecording } from '../../../packages/capture/test/listen/made-recording.ts';
import { repositoryPath, run, runJson } from './recording-desk.ts';

// Recordings and jobs are worked through as a whole: seconds, and much longer where a busy machine runs it.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

let folder = '';
const file = (name: string): string => join(folder, name);

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'curvewright-listen-'));
  const signal = [
    '--sweep',
    '2 s',
    '--silence',
    '2 s',
    '--shape',
    'flat',
    '--input',
    '50 mV',
    '--steps',
    'level,left,right,silence',
  ];
  expect(run('signal', file('ts'), ...signal).status).toBe(0);
  const plan = readSignalPlan(readFileSync(file('ts.signal.json'), 'utf8'), 'ts.signal.json');
  if (!plan.ok) throw new Error('no plan');
  const write = (name: string, { rate, channels }: Wav): void => {
    writeFileSync(file(name), writeWav({ rate, bits: 24, format: 'pcm', channels }));
  };
  write('board.wav', madeRecording(plan.value, { bits: 24, noise: 1e-6 }));
  write(
    'loop.wav',
    madeRecording(plan.value, { bits: 24, noise: 1e-6, lead: 5000, board: (samples) => samples.map((x) => 0.5 * x) }),
  );
  writeFileSync(
    file('silent.wav'),
    writeWav({ rate: 48_000, bits: 16, format: 'pcm', channels: [new Float64Array(48_000)] }),
  );
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

interface Listened {
  readonly channels: readonly {
    readonly name: string;
    readonly gainDb: number | null;
    readonly points: readonly {
      hz: number;
      deviationDb: number | null;
      snrDb: number | null;
      thdPercent: number | null;
    }[];
  }[];
  readonly clock: { readonly ppm: number; readonly offsetS: number } | null;
  readonly problems: readonly { readonly code: string }[];
}

describe('listen', () => {
  it('answers with the fixed keys, and with the gain over a loop-back', () => {
    const words = ['listen', file('board.wav'), '--signal', file('ts.signal.json'), '--loopback', file('loop.wav')];
    const answer = runJson(...words) as unknown as Listened;
    expect(answer.channels.map(({ name }) => name)).toEqual(['left', 'right']);
    expect(answer.problems).toEqual([]);
    // 24 bits and noise 120 dB down on one clock: rounding of the marker's place alone.
    expect(Math.abs(answer.clock!.ppm)).toBeLessThan(0.1);
    expect(answer.clock!.offsetS).toBeCloseTo(12_345 / 48_000, 4);
    const [left] = answer.channels;
    const point = left!.points.find(({ hz }) => hz === 1000)!;
    expect(point.deviationDb).toBe(0);
    expect(point.snrDb).toBeGreaterThan(60);
    // The made equaliser falls to 0.199 from its bass to 1 kHz and is turned up twofold; the loop-back halves: within the 0.1 dB of its sections.
    expect(left!.gainDb).toBeCloseTo(20 * Math.log10((2 * 0.1012) / 0.5), 0);
    const page = run(...words);
    expect(page.status).toBe(0);
    expect(page.out).toContain('Taken off: the measuring set by');
    expect(page.out).toMatch(/1 kHz +0\.00 +0\.00/);
  });

  it('says that the deviation is that of a chain, takes a known one off, and ends with 3 where nothing is heard', () => {
    const words = ['listen', file('board.wav'), '--signal', file('ts.signal.json'), '--at', 'tape output'];
    expect(run(...words).out).toContain('that of the whole chain up to tape output');
    writeFileSync(
      file('tape.board.yaml'),
      'board: 1\ntitle: tape output\ninput: { node: in }\noutput: { node: out, load: { resistance: 10 kΩ, capacitance: 0 F } }\nparts:\n  R1: { kind: resistor, value: 10 kΩ, between: [in, out] }\n',
    );
    const chained = run(...words, '--chain', file('tape.board.yaml'), '--json');
    expect(chained.status).toBe(0);
    const silent = run('listen', file('silent.wav'), '--signal', file('ts.signal.json'));
    expect(silent.status).toBe(3);
    expect(silent.out).toContain('no marker of this signal');
  });

  it('refuses what is no recording or no signal, with its place', () => {
    const noWav = run('listen', file('ts.signal.json'), '--signal', file('ts.signal.json'));
    expect(noWav.status).toBe(2);
    expect(noWav.complaint).toMatch(/ts\.signal\.json:1:1: /);
    expect(run('listen', file('board.wav'), '--signal', file('board.wav')).status).toBe(2);
    expect(run('listen', file('board.wav')).status).toBe(2);
  });
});

interface Checked {
  readonly states: {
    readonly measured: {
      readonly boards: number;
      readonly channels: readonly {
        name: string;
        points: readonly { hz: number; deviationDb: number | null; agreement: string }[];
      }[];
      readonly problems: readonly string[];
    } | null;
  };
}

describe('check with what was measured', () => {
  const seed = readFileSync(repositoryPath('seeds/jobs/lk417.job.yaml'), 'utf8');
  const job = (measured: string): string => {
    const text = seed
      .replace(/^board: .*$/m, `board: ${repositoryPath('seeds/boards/lk417.board.yaml')}`)
      .replace(/^measured:.*(\n .*)*\n?/m, '');
    writeFileSync(file('job.job.yaml'), `${text.trimEnd()}\nmeasured: ${measured}\n`);
    return file('job.job.yaml');
  };

  it('lays a response beside the prediction: inside, outside, not measured', () => {
    const curve = runJson(
      'curve',
      job('{ state: rebuilt, at: board }'),
      '--at',
      '20,50,100,200,500,1000,2000,5000,10000,20000',
    ) as unknown as {
      channels: readonly { points: readonly { hz: number; gainDb: number }[] }[];
    };
    const table = (lift: (hz: number) => number): string =>
      ['Hz,gain dB', ...curve.channels[0]!.points.map(({ hz, gainDb }) => `${hz},${gainDb + lift(hz)}`)].join('\n');
    writeFileSync(
      file('l.csv'),
      table(() => 0),
    );
    writeFileSync(
      file('r.csv'),
      table((hz) => (hz === 10_000 ? 3 : 0)),
    );
    const measured = '{ state: rebuilt, at: board, response: { left: l.csv, right: r.csv } }';
    const { states } = runJson('check', job(measured)) as unknown as Checked;
    const [left, right] = states.measured!.channels;
    const at = (channel: typeof left, hz: number): string | undefined =>
      channel!.points.find((point) => point.hz === hz)?.agreement;
    // Between the rows of the table the curve is not straight; at them it is the prediction itself.
    expect([20, 100, 1000, 10_000, 20_000].map((hz) => at(left, hz))).toEqual(Array(5).fill('inside'));
    expect(at(right, 10_000)).toBe('outside');
    expect(at(right, 1000)).toBe('inside');
    const page = run('check', job(measured)).out;
    expect(page).toContain('Measured at the board against rebuilt');
    expect(page).toMatch(/outside: .*10 kHz R/);
  });

  it('keeps its verdict and says so where a named file is not there', () => {
    const plain = run('check', job('{ state: rebuilt, at: board }'));
    const { status, out } = run('check', job('{ state: rebuilt, at: board, response: { left: gone.csv } }'));
    expect(status).toBe(plain.status);
    expect(out).toContain('gone.csv: the file is not there');
  });
});
