import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readSignalPlan, readWav } from '@curvewright/capture';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openRecording, readRecording } from '../src/recording.ts';
import { repositoryPath, run, runAttended, runJson } from './recording-desk.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'curvewright-signal-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

const short = ['--sweep', '1 s', '--silence', '1 s'] as const;

interface Levels {
  level: {
    levelDbfs: number;
    limitedBy: string;
    points: { hz: number; inputMv: number; outputMv: number; backDbfs: number }[];
  };
  hookup: { adapterGainDb: number; boardGainDb: number; overloadVolts: number; adapterShaping: string };
  files: { wav: string; plan: string; signal: { shaping: string; peakDbfs: number } }[];
}

interface AdapterJson {
  gainDb: number;
  points: { hz: number; gainDb: number; errorDb: number }[];
}

interface CurveJson {
  channels: { name: string; points: { hz: number; gainDb: number; targetDb: number; deviationDb: number }[] }[];
}

describe('signal', () => {
  it.each([
    ['16', 16, 'pcm'],
    ['24', 24, 'pcm'],
    ['32', 32, 'pcm'],
    ['float', 32, 'float'],
  ])('writes a WAV file of %s bits and its plan', (bits, width, format) => {
    const name = join(folder, `bits-${bits}`);
    const { status, out } = run('signal', name, '--bits', bits, '--steps', 'level,left', ...short);
    expect(status).toBe(0);
    expect(out).toContain(`wrote ${name}.wav`);
    const wav = readWav(readFileSync(`${name}.wav`));
    const plan = readSignalPlan(readFileSync(`${name}.signal.json`, 'utf8'), 'plan');
    if (!wav.ok || !plan.ok) throw new Error('unreadable');
    expect(wav.value).toMatchObject({ bits: width, format, rate: 48_000, lost: [] });
    expect(wav.value.frames).toBe(Math.round(plan.value.seconds * 48_000));
    const highest = Math.max(
      ...wav.value.channels.map((samples) => samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0)),
    );
    // A step of 16 bits at the top.
    expect(20 * Math.log10(highest)).toBeLessThan(plan.value.peakDbfs + 0.001);
  });

  it('writes a file for each step where they are to be apart', () => {
    const name = join(folder, 'apart');
    expect(run('signal', name, '--apart', '--steps', 'level,silence', ...short).status).toBe(0);
    for (const step of ['level', 'silence']) {
      expect([existsSync(`${name}-${step}.wav`), existsSync(`${name}-${step}.signal.json`)]).toEqual([true, true]);
    }
    expect(existsSync(`${name}.wav`)).toBe(false);
  });

  it('plans the level with the gain and overload of the board on the bench, and says the cautions', () => {
    const name = join(folder, 'bench');
    const board = repositoryPath('seeds/boards/lk417.board.yaml');
    const words = ['signal', name, '--board', board, '--steps', 'level', ...short];
    const { level, hookup } = runJson(...words) as unknown as Levels;
    const curve = runJson('curve', board, '--at', '1000') as unknown as CurveJson;
    const gains = curve.channels.map(({ points: [point] }) => point?.gainDb ?? NaN);
    expect(hookup.boardGainDb).toBe(Math.max(...gains));
    expect(hookup.overloadVolts).toBeGreaterThan(0.02);
    const at1kHz = level.points.find(({ hz }) => hz === 1000);
    expect(at1kHz?.inputMv).toBeCloseTo(5, 6);
    // Through a gain in dB: 5 mV · 10^(gain/20).
    expect(at1kHz?.outputMv).toBeCloseTo(5 * 10 ** (hookup.boardGainDb / 20), 6);
    rmSync(`${name}.wav`);
    rmSync(`${name}.signal.json`);
    const page = run(...words).out;
    for (const word of ['Turn the volume down', 'Block direct voltage', 'earthed', 'plug-in power'])
      expect(page).toContain(word);
  });

  it('asks for the adapter where somebody sits there, and takes a board file for one', async () => {
    const adapter = join(folder, 'asked.board.yaml');
    run('signal', 'adapter', adapter);
    const { asked, status, out } = await runAttended(
      ['2 V', '', adapter, ''],
      'signal',
      join(folder, 'asked'),
      ...['--steps', 'level'],
    );
    expect(status).toBe(0);
    // Impedances of the adapter are not asked for: the file has them.
    expect(asked).toHaveLength(4);
    expect(out).toContain(adapter);
    expect(out).toMatch(/player at full scale +2 V rms/);
    const wrong = await runAttended(['2 parsecs'], 'signal', join(folder, 'wrong'));
    expect([wrong.status, existsSync(join(folder, 'wrong.wav'))]).toEqual([2, false]);
  });

  it('leaves files that are there alone', () => {
    const name = join(folder, 'there');
    run('signal', name, '--steps', 'level');
    const before = readFileSync(`${name}.wav`);
    const again = run('signal', name, '--steps', 'tones');
    expect([again.status, again.complaint]).toEqual([2, expect.stringContaining('is there already')]);
    expect(readFileSync(`${name}.wav`).equals(before)).toBe(true);
  });

  it.each([
    [['--rate', '8000']],
    [['--steps', 'level,level']],
    [['--steps', 'warble']],
    [['--to', '30 kHz']],
    [['--from', '20 kHz', '--to', '20 Hz']],
    [['--sweep', '0 s']],
    [['--ratio', '0.5']],
    [['--adapter', 'a.yaml', '--ratio', '10']],
    [['--board', 'a.yaml', '--gain', '40 dB']],
    [['--adapter', 'not-there.board.yaml']],
  ])('refuses %j', (words) => {
    const { status, complaint } = run('signal', join(folder, 'refused'), ...words);
    expect([status, complaint.length > 0, existsSync(join(folder, 'refused.wav'))]).toEqual([2, true, false]);
  });
});

describe('signal adapter', () => {
  it.each([
    ['inverse_riaa', 2, '600 Ω'],
    ['inverse_riaa', 2, '100 Ω'],
    ['flat', 1, '100 Ω'],
  ] as const)('%s: the engine finds the design’s own gain and error in its board file', (shape, curves, generator) => {
    const file = join(folder, `${shape}-${generator.slice(0, 3)}.board.yaml`);
    const design = runJson(
      'signal',
      'adapter',
      file,
      '--shape',
      shape,
      '--generator',
      generator,
    ) as unknown as AdapterJson;
    const at = design.points.map(({ hz }) => hz).join(',');
    const { channels } = runJson('curve', file, '--at', at) as unknown as CurveJson;
    expect(channels.map(({ name }) => name)).toEqual(['left', 'right']);
    for (const { points } of channels) {
      points.forEach(({ gainDb, targetDb, deviationDb }, n) => {
        const { gainDb: designed, errorDb } = design.points[n]!;
        // Two ways to one linear network in double precision; conductances a factor 1e4 apart leave some 1e-11 dB.
        expect(Math.abs(gainDb - designed)).toBeLessThan(1e-9);
        // The deviation is against the playback curve: an inverse adapter lies two of them off, a flat one once.
        expect(Math.abs(deviationDb + curves * targetDb - errorDb)).toBeLessThan(1e-9);
      });
    }
  });

  it('is known for what it is when a signal is made for it: a flat one gets a shaped signal', () => {
    for (const [shape, signal] of [
      ['flat', 'inverse_riaa'],
      ['inverse_riaa', 'flat'],
    ] as const) {
      const file = join(folder, `known-${shape}.board.yaml`);
      const { gainDb } = runJson('signal', 'adapter', file, '--shape', shape) as unknown as AdapterJson;
      const made = runJson(
        'signal',
        join(folder, `for-${shape}`),
        '--adapter',
        file,
        '--steps',
        'level',
      ) as unknown as Levels;
      expect(made.files[0]?.signal.shaping).toBe(signal);
      expect(made.hookup.adapterGainDb).toBeCloseTo(gainDb, 9);
      expect(made.level.points.every(({ outputMv }, _, all) => Math.abs(outputMv / all[0]!.outputMv - 1) < 0.02)).toBe(
        true,
      );
    }
  });

  it('says parts, error, what moves it and how to check it', () => {
    const file = join(folder, 'page.board.yaml');
    const { status, out } = run('signal', 'adapter', file);
    expect(status).toBe(0);
    for (const word of [
      'in series, bass',
      'Behind another generator',
      'one percent more',
      `curvewright curve ${file}`,
      'twice',
    ])
      expect(out).toContain(word);
    expect(run('signal', 'adapter', file).complaint).toContain('is there already');
    expect(run('signal', 'adapter', join(folder, 'none.board.yaml'), '--attenuation', '6 dB').status).toBe(2);
  });
});

describe('a recording as a file', () => {
  it('is read whole or a piece at a time, and refused with the byte that is wrong', () => {
    const name = join(folder, 'read');
    run('signal', name, '--steps', 'level');
    const whole = readRecording(`${name}.wav`);
    const opened = openRecording(`${name}.wav`);
    if (!whole.ok || !opened.ok) throw new Error('unreadable');
    expect(opened.value.header.frames).toBe(whole.value.frames);
    opened.value.close();
    const refused = readRecording(`${name}.signal.json`);
    expect(refused.ok ? [] : refused.diagnostics).toMatchObject([
      {
        code: 'unreadable-file',
        place: { line: 1, column: 1 },
        message: expect.stringContaining('is no WAV file') as string,
      },
    ]);
    expect(openRecording(join(folder, 'not-there.wav')).ok).toBe(false);
    expect(openRecording(folder).ok).toBe(false);
  });
});
