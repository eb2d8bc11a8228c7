import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import wavefile from 'wavefile';
import { readWav, writeWav, type WavToWrite } from '../../src/index.ts';

/** A tone of −6 dB re full scale on the left, one of −20 dB on the right: their power is what other readers have to find, too. */
const rate = 48_000;
const seconds = 0.5;
const levels = [-6, -20] as const;
const channels = levels.map((level, n) =>
  Float64Array.from(
    { length: seconds * rate },
    (_, at) => 10 ** (level / 20) * Math.sin((2 * Math.PI * (1000 + 500 * n) * at) / rate),
  ),
);
const codings: readonly Pick<WavToWrite, 'bits' | 'format'>[] = [
  { bits: 16, format: 'pcm' },
  { bits: 24, format: 'pcm' },
  { bits: 32, format: 'pcm' },
  { bits: 32, format: 'float' },
];

/** Rms in dB re a full-scale sine over whole periods: rounding to 16 bits, 78 dB below the right channel, moves it by 1e-7 dB; 1e-3 would still show a sample too many. */
const toleranceDb = 1e-3;

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'curvewright-wav-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

interface Seen {
  readonly rate: number;
  readonly frames: number;
  readonly levels: readonly number[];
}

const levelWords = `
def level(samples):
    return 10 * math.log10(2 * sum(x * x for x in samples) / len(samples))
`;

/** Python's own reader; it knows no floating point. */
const pythonWave = `
import json, math, sys, wave
${levelWords}
f = wave.open(sys.argv[1])
width, count, frames = f.getsampwidth(), f.getnchannels(), f.getnframes()
raw = f.readframes(frames)
values = [int.from_bytes(raw[i:i + width], 'little', signed=True) / 2 ** (8 * width - 1) for i in range(0, len(raw), width)]
print(json.dumps({'rate': f.getframerate(), 'frames': frames, 'levels': [level(values[c::count]) for c in range(count)]}))
`;

const scipyWavfile = `
import json, math, sys
from scipy.io import wavfile
${levelWords}
rate, data = wavfile.read(sys.argv[1])
# 24 bits come in the upper bytes of 32.
scale = 1.0 if data.dtype.kind == 'f' else 2.0 ** (8 * data.dtype.itemsize - 1)
print(json.dumps({'rate': rate, 'frames': data.shape[0], 'levels': [level(data[:, c] / scale) for c in range(data.shape[1])]}))
`;

function python(program: string, file: string): Seen {
  const ran = spawnSync('python3', ['-c', program, file], { encoding: 'utf8' });
  if (ran.status !== 0) throw new Error(ran.stderr);
  return JSON.parse(ran.stdout) as Seen;
}

function has(module: string): boolean {
  return spawnSync('python3', ['-c', `import ${module}`]).status === 0;
}

const [waveThere, scipyThere] = [has('wave'), has('scipy.io')];
for (const [there, what] of [
  [waveThere, 'python3'],
  [scipyThere, 'SciPy'],
] as const) {
  if (!there) console.warn(`${what} is not installed here: its reading of our files is not checked`);
}

function expectSame(seen: Seen): void {
  expect([seen.rate, seen.frames]).toEqual([rate, seconds * rate]);
  seen.levels.forEach((level, n) => {
    expect(Math.abs(level - levels[n]!)).toBeLessThan(toleranceDb);
  });
}

function written(coding: Pick<WavToWrite, 'bits' | 'format'>): string {
  const file = join(folder, `${coding.format}${coding.bits}.wav`);
  writeFileSync(file, writeWav({ ...coding, rate, channels }));
  return file;
}

describe('general readers agree on length, rate and level', () => {
  it.skipIf(!waveThere).each(codings.filter(({ format }) => format === 'pcm'))(
    "Python's wave: $format $bits",
    (coding) => {
      expectSame(python(pythonWave, written(coding)));
    },
  );

  it.skipIf(!scipyThere).each(codings)('SciPy: $format $bits', (coding) => {
    expectSame(python(scipyWavfile, written(coding)));
  });

  it.each(codings)('wavefile 11: $format $bits, every sample', (coding) => {
    const theirs = new wavefile.WaveFile(writeWav({ ...coding, rate, channels }));
    const scale = coding.format === 'float' ? 1 : 2 ** (coding.bits - 1);
    const theirSamples = theirs.getSamples(false, Float64Array) as unknown as Float64Array[];
    const ours = readWav(writeWav({ ...coding, rate, channels }));
    if (!ours.ok) throw new Error(ours.error.message);
    theirSamples.forEach((samples, n) => {
      expect(samples.map((sample) => sample / scale)).toEqual(ours.value.channels[n]);
    });
  });
});

describe('what wavefile 11 writes', () => {
  it.each([
    ['8', 'pcm'],
    ['16', 'pcm'],
    ['24', 'pcm'],
    ['32', 'pcm'],
    ['32f', 'float'],
    ['64', 'float'],
  ])('%s is read with the same samples', (depth, format) => {
    const theirs = new wavefile.WaveFile();
    const ramp = [-100, -1, 0, 1, 100].map((value) =>
      format === 'float' ? value / 100 : depth === '8' ? value + 128 : value,
    );
    theirs.fromScratch(2, 44_100, depth, [ramp, ramp.toReversed()]);
    const ours = readWav(theirs.toBuffer());
    if (!ours.ok) throw new Error(ours.error.message);
    const scale = format === 'float' ? 1 : 2 ** (Number.parseInt(depth) - 1);
    const zero = depth === '8' ? 128 : 0;
    expect(ours.value).toMatchObject({ rate: 44_100, format, frames: 5, lost: [] });
    // 32 bit floating point holds the hundredths to 24 bits.
    Array.from(ours.value.channels[0]!).forEach((sample, n) => {
      expect(sample).toBeCloseTo((ramp[n]! - zero) / scale, 7);
    });
  });
});
