import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readWav, writeWav, type WavToWrite } from '../../src/index.ts';
import { chunk, extensibleFmt, fmt, riff } from './wav-bytes.ts';

const coding = fc.constantFrom<Pick<WavToWrite, 'bits' | 'format'>>(
  { bits: 16, format: 'pcm' },
  { bits: 24, format: 'pcm' },
  { bits: 32, format: 'pcm' },
  { bits: 32, format: 'float' },
  { bits: 64, format: 'float' },
);
const rate = fc.constantFrom(44_100, 48_000, 96_000, 192_000);
const channels = fc
  .integer({ min: 0, max: 40 })
  .chain((frames) =>
    fc.array(fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: frames, maxLength: frames }), {
      minLength: 1,
      maxLength: 2,
    }),
  )
  .map((arrays) => arrays.map((each) => Float64Array.from(each)));

/** Half a step of rounding, and the whole step that full scale lacks at the top; of single precision its 24 bits. */
function allowed({ bits, format }: Pick<WavToWrite, 'bits' | 'format'>): number {
  if (format === 'float') return bits === 64 ? 0 : 2 ** -25;
  return 2 ** (1 - bits);
}

describe('what is written reads back', () => {
  it('with rate, width and channels, and samples to a step', () => {
    fc.assert(
      fc.property(coding, rate, channels, (coded, frames, written) => {
        const wav = readWav(writeWav({ ...coded, rate: frames, channels: written }));
        if (!wav.ok) throw new Error(wav.error.message);
        expect(wav.value).toMatchObject({ ...coded, rate: frames, frames: written[0]!.length, lost: [] });
        written.forEach((samples, n) => {
          samples.forEach((sample, at) => {
            expect(Math.abs(wav.value.channels[n]![at]! - sample)).toBeLessThanOrEqual(allowed(coded));
          });
        });
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });

  it('bit by bit, once it has been read', () => {
    fc.assert(
      fc.property(coding, rate, channels, (coded, frames, written) => {
        const bytes = writeWav({ ...coded, rate: frames, channels: written });
        const wav = readWav(bytes);
        if (!wav.ok) throw new Error(wav.error.message);
        expect(writeWav({ ...coded, rate: frames, channels: wav.value.channels })).toEqual(bytes);
      }),
      { seed: 20261125, numRuns: 100 },
    );
  });

  it('as the RIFF form has it: size the file less 8, even, data last', () => {
    fc.assert(
      fc.property(coding, rate, channels, (coded, frames, written) => {
        const bytes = writeWav({ ...coded, rate: frames, channels: written });
        const fields = new DataView(bytes.buffer);
        const text = (at: number): string => String.fromCharCode(...bytes.subarray(at, at + 4));
        expect([text(0), text(8), text(12), bytes.length % 2]).toEqual(['RIFF', 'WAVE', 'fmt ', 0]);
        expect(fields.getUint32(4, true)).toBe(bytes.length - 8);
        const frameBytes = (written.length * coded.bits) / 8;
        expect([fields.getUint32(28, true), fields.getUint16(32, true)]).toEqual([frames * frameBytes, frameBytes]);
        const dataBytes = written[0]!.length * frameBytes;
        const data = bytes.length - dataBytes - (dataBytes % 2) - 8;
        expect([text(data), fields.getUint32(data + 4, true)]).toEqual(['data', dataBytes]);
      }),
      { seed: 20261125, numRuns: 50 },
    );
  });

  it('holds what is beyond full scale at it', () => {
    const wav = readWav(writeWav({ rate: 48_000, bits: 16, format: 'pcm', channels: [Float64Array.of(2, -2)] }));
    expect(wav.ok && Array.from(wav.value.channels[0]!)).toEqual([1 - 2 ** -15, -1]);
  });

  it('refuses what no file can hold', () => {
    const one = new Float64Array(2);
    expect(() => writeWav({ rate: 48_000, bits: 16, format: 'float', channels: [one] })).toThrow(RangeError);
    expect(() => writeWav({ rate: 48_000, bits: 16, format: 'pcm', channels: [] })).toThrow(RangeError);
    expect(() => writeWav({ rate: 48_000, bits: 16, format: 'pcm', channels: [one, new Float64Array(3)] })).toThrow(
      RangeError,
    );
  });
});

describe('damaged files', () => {
  const data = chunk(
    'data',
    Uint8Array.from({ length: 24 }, (_, n) => n * 11),
  );
  const sound = [
    riff([fmt({ channels: 2 }), data]),
    riff([chunk('LIST', new Uint8Array(3)), extensibleFmt({ bits: 24, valid: 20 }), data]),
    riff([fmt({ tag: 3, bits: 32 }), chunk('fact', new Uint8Array(4)), data]),
    riff([chunk('ds64', new Uint8Array(28)), fmt(), data], { kind: 'RF64', size: 0xffffffff }),
  ];
  const codes = ['not-wav', 'no-format', 'no-data', 'unknown-coding', 'wrong-format'];

  it('are read as far as they go, or refused by code, place and words; never thrown at', () => {
    const seen = new Map<string, number>();
    const damage = fc.record({
      file: fc.constantFrom(...sound),
      bytes: fc.array(fc.tuple(fc.nat(80), fc.nat(255)), { maxLength: 6 }),
      keep: fc.oneof({ weight: 1, arbitrary: fc.nat(100) }, { weight: 3, arbitrary: fc.constant(Infinity) }),
    });
    fc.assert(
      fc.property(damage, ({ file, bytes, keep }) => {
        const damaged = file.slice(0, keep);
        for (const [at, value] of bytes) if (at < damaged.length) damaged[at] = value;
        const outcome = readWav(damaged);
        seen.set(
          outcome.ok ? 'read' : outcome.error.code,
          (seen.get(outcome.ok ? 'read' : outcome.error.code) ?? 0) + 1,
        );
        if (!outcome.ok) {
          expect(codes).toContain(outcome.error.code);
          expect(outcome.error.byte).toBeLessThanOrEqual(damaged.length + 24);
          expect(outcome.error.message).toMatch(/^[^\n]+; [^\n]+$/);
          return;
        }
        const { channels: arrays, frames, bits, rate: read } = outcome.value;
        expect(arrays.every((each) => each.length === frames && each.every((x) => Number.isFinite(x)))).toBe(true);
        expect(frames * arrays.length).toBeLessThanOrEqual(damaged.length);
        expect([bits > 0, read > 0]).toEqual([true, true]);
      }),
      { seed: 20261125, numRuns: 5000 },
    );
    // The corpus reaches every answer.
    expect([...seen.keys()].sort()).toEqual(['read', ...codes].sort());
  });

  it('and bytes of nothing in particular', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        expect(readWav(bytes).ok).toBe(false);
      }),
      { seed: 20261125, numRuns: 1000 },
    );
  });
});
