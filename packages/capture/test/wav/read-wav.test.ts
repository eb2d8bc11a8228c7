import { describe, expect, it } from 'vitest';
import { bytesInMemory, decodeFrames, readWav, wavHeader, type Wav } from '../../src/index.ts';
import { ascii, chunk, extensibleFmt, fmt, join, riff, u16, u32 } from './wav-bytes.ts';

function read(bytes: Uint8Array): Wav {
  const outcome = readWav(bytes);
  if (!outcome.ok) throw new Error(outcome.error.message);
  return outcome.value;
}

function samples(bytes: Uint8Array): number[] {
  return Array.from(read(bytes).channels[0]!);
}

function fault(bytes: Uint8Array): { code: string; byte: number } | null {
  const outcome = readWav(bytes);
  return outcome.ok ? null : { code: outcome.error.code, byte: outcome.error.byte };
}

const two = u16(0x4000);

describe('codings, as the specification of 1991 and its extension have them', () => {
  it('8 bits are unsigned about 128', () => {
    expect(samples(riff([fmt({ bits: 8 }), chunk('data', Uint8Array.of(0, 128, 192))]))).toEqual([-1, 0, 0.5]);
  });

  it.each([
    [16, [0x00, 0x80, 0x00, 0x40, 0xff, 0xff], [-1, 0.5, -(2 ** -15)]],
    [24, [0x00, 0x00, 0x80, 0x00, 0x00, 0x40, 0xff, 0xff, 0xff], [-1, 0.5, -(2 ** -23)]],
    [32, [0, 0, 0, 0x80, 0, 0, 0, 0x40, 0xff, 0xff, 0xff, 0xff], [-1, 0.5, -(2 ** -31)]],
  ])('%i bits are two’s complement, least byte first', (bits, bytes, expected) => {
    expect(samples(riff([fmt({ bits }), chunk('data', Uint8Array.from(bytes))]))).toEqual(expected);
  });

  it('floating point is taken as it stands, beyond full scale too', () => {
    const data = new Uint8Array(new Float32Array([0.25, -1.5]).buffer);
    const wav = read(riff([fmt({ tag: 3, bits: 32 }), chunk('data', data)]));
    expect([wav.format, wav.bits, Array.from(wav.channels[0]!)]).toEqual(['float', 32, [0.25, -1.5]]);
    const wide = new Uint8Array(new Float64Array([0.1]).buffer);
    expect(samples(riff([fmt({ tag: 3, bits: 64 }), chunk('data', wide)]))).toEqual([0.1]);
  });

  it('the extensible header names coding and valid bits; 20 of 24 bits stand at the top', () => {
    const wav = read(riff([extensibleFmt({ bits: 24, valid: 20 }), chunk('data', Uint8Array.of(0xf0, 0xff, 0x7f))]));
    expect([wav.bits, wav.format]).toEqual([20, 'pcm']);
    expect(wav.channels[0]![0]).toBe(1 - 2 ** -19);
    const data = new Uint8Array(new Float32Array([0.5]).buffer);
    expect(read(riff([extensibleFmt({ tag: 3, bits: 32 }), chunk('data', data)])).format).toBe('float');
  });

  it('frames interleave the channels', () => {
    const wav = read(riff([fmt({ channels: 2 }), chunk('data', join([two, u16(0), two, u16(0x8000)]))]));
    expect(wav.channels.map((each) => Array.from(each))).toEqual([
      [0.5, 0.5],
      [0, -1],
    ]);
  });
});

describe('odd and damaged files say what was lost', () => {
  it('skips other chunks, odd ones with their padding byte', () => {
    const wav = read(
      riff([chunk('LIST', ascii('odd')), fmt(), chunk('bext', ascii('12345')), chunk('data', two), chunk('LIST', two)]),
    );
    expect([wav.frames, wav.lost]).toEqual([1, []]);
  });

  it('an odd chunk without padding', () => {
    const wav = read(riff([fmt(), chunk('LIST', ascii('odd'), { padded: false }), chunk('data', two)]));
    expect(wav.frames).toBe(1);
    expect(wav.lost).toEqual([expect.stringContaining('lacks its padding byte')]);
  });

  it('a file that ends early', () => {
    const wav = read(riff([fmt({ rate: 8000 }), chunk('data', join([two, two]), { size: 32_000 })]));
    expect(wav.frames).toBe(2);
    // 2 of 16,000 frames at 8 kHz.
    expect(wav.lost).toEqual(['it ends early: 0.000 s of 2.000 s are there']);
  });

  it.each([[0], [0xffffffff]])('a length that was never filled in (%i)', (size) => {
    const wav = read(riff([fmt(), chunk('data', join([two, two, two]), { size })], { size: 0 }));
    expect(wav.frames).toBe(3);
    expect(wav.lost).toEqual([expect.stringContaining('never filled in')]);
  });

  it('half a frame at the end', () => {
    const wav = read(riff([fmt({ channels: 2 }), chunk('data', join([two, two, two]))]));
    expect([wav.frames, wav.lost]).toEqual([1, ['its last 2 bytes are no whole frame of 4 and were left out']]);
  });

  it('samples that are no numbers', () => {
    const data = new Uint8Array(new Float32Array([NaN, 0.5, Infinity]).buffer);
    const wav = read(riff([fmt({ tag: 3, bits: 32 }), chunk('data', data)]));
    expect(Array.from(wav.channels[0]!)).toEqual([0, 0.5, 0]);
    expect(wav.lost).toEqual(['2 samples are no numbers and were taken as 0']);
  });

  it('no sound at all is a recording of no frames', () => {
    expect(read(riff([fmt(), chunk('data', new Uint8Array())])).frames).toBe(0);
  });

  it('RF64 keeps its length in ds64 (EBU Tech 3306)', () => {
    const long = chunk('ds64', join([u32(0), u32(0), u32(4), u32(0), u32(2), u32(0), u32(0)]));
    const data = chunk('data', join([two, two]), { size: 0xffffffff });
    const wav = read(join([riff([long, fmt(), data], { kind: 'RF64', size: 0xffffffff }), ascii('tail')]));
    expect([wav.frames, wav.lost]).toEqual([2, []]);
  });
});

describe('what is no recording is refused with its place', () => {
  it.each([
    ['nothing', new Uint8Array(), 'not-wav', 0],
    ['text', ascii('left,right\n0,0\n'), 'not-wav', 0],
    ['a big-endian file', riff([fmt()], { kind: 'RIFX' }), 'not-wav', 0],
    ['no format', riff([chunk('data', two)]), 'no-format', 12],
    [
      'a format that is cut off',
      join([ascii('RIFF'), u32(20), ascii('WAVEfmt '), u32(16), u16(1)]),
      'wrong-format',
      20,
    ],
    ['no data', riff([fmt()]), 'no-data', 36],
    ['A-law', riff([fmt({ tag: 6, bits: 8 }), chunk('data', two)]), 'unknown-coding', 20],
    ['an unknown subformat', riff([extensibleFmt({ tag: 0x92 }), chunk('data', two)]), 'unknown-coding', 20],
    ['no channels', riff([fmt({ channels: 0, frameBytes: 2 }), chunk('data', two)]), 'wrong-format', 22],
    ['no rate', riff([fmt({ rate: 0 }), chunk('data', two)]), 'wrong-format', 24],
    [
      'frames that do not hold the samples',
      riff([fmt({ frameBytes: 3, bits: 32 }), chunk('data', two)]),
      'wrong-format',
      32,
    ],
    ['16 bit floating point', riff([fmt({ tag: 3 }), chunk('data', two)]), 'wrong-format', 32],
  ])('%s', (_, bytes, code, byte) => {
    expect(fault(bytes)).toEqual({ code, byte });
  });
});

describe('reading a piece at a time', () => {
  it('gives the same samples as reading it whole', () => {
    const data = join(Array.from({ length: 1000 }, (_, n) => u16((n * 7919) & 0xffff)));
    const bytes = riff([chunk('LIST', new Uint8Array(5000)), fmt({ channels: 2 }), chunk('data', data)]);
    const header = wavHeader(bytesInMemory(bytes));
    if (!header.ok) throw new Error(header.error.message);
    const { dataAt, frameBytes, frames } = header.value;
    const whole = read(bytes).channels;
    const piece = [new Float32Array(77), new Float32Array(77)];
    for (let at = 0; at < frames; at += 77) {
      const count = Math.min(77, frames - at);
      decodeFrames(bytes.subarray(dataAt + at * frameBytes, dataAt + (at + count) * frameBytes), header.value, piece);
      piece.forEach((each, n) => {
        // 16 bits are exact in single precision.
        expect(Array.from(each.subarray(0, count))).toEqual(Array.from(whole[n]!.subarray(at, at + count)));
      });
    }
  });

  it('reads of the source only the headers', () => {
    const bytes = riff([fmt(), chunk('data', new Uint8Array(100_000))]);
    let most = 0;
    const header = wavHeader({
      length: bytes.length,
      read: (at, length) => {
        most = Math.max(most, at + length);
        return bytes.subarray(at, at + length);
      },
    });
    expect(header.ok).toBe(true);
    expect(most).toBeLessThan(100);
  });

  it('throws where an array is missing', () => {
    const header = wavHeader(bytesInMemory(riff([fmt({ channels: 2 }), chunk('data', join([two, two]))])));
    if (!header.ok) throw new Error(header.error.message);
    expect(() => decodeFrames(join([two, two]), header.value, [new Float32Array(1)])).toThrow(RangeError);
  });
});
