import { view } from './chunks.ts';
import { ditherOf } from './dither.ts';
import type { SampleFormat } from './wav.ts';

/** A recording to write: 16, 24 or 32 bits of `pcm`, 32 or 64 of `float`. */
export interface WavToWrite {
  readonly rate: number;
  readonly bits: 16 | 24 | 32 | 64;
  readonly format: SampleFormat;
  /** One array a channel, all of the same length, full scale ±1. */
  readonly channels: readonly Float64Array[];
  /** Seed of triangular dither, for `pcm`; without it samples are rounded only. A sample of exactly 0 stays so: silence is to be silent. */
  readonly dither?: number;
}

/**
 * A RIFF WAVE file of one or two channels with the plain header, which every player and recorder reads at any of these widths. Samples of `pcm` beyond
 * full scale are held at it (the highest positive one is a step below 1). Throws a RangeError for what the format cannot hold.
 */
export function writeWav({ rate, bits, format, channels, dither }: WavToWrite): Uint8Array {
  const frames = channels[0]?.length;
  if (frames === undefined || channels.length > 2 || channels.some(({ length }) => length !== frames)) {
    throw new RangeError('a recording has one channel, or two of one length');
  }
  if (!(format === 'float' ? bits >= 32 : bits <= 32)) throw new RangeError(`${format} has no ${bits} bits`);
  const sampleBytes = bits / 8;
  const frameBytes = sampleBytes * channels.length;
  // Floating point has an extension, empty, and counts its frames in a fact chunk.
  const [fmtBytes, factBytes] = format === 'float' ? [18, 12] : [16, 0];
  const dataBytes = frames * frameBytes;
  const dataAt = 12 + 8 + fmtBytes + factBytes + 8;
  const length = dataAt + dataBytes + (dataBytes % 2);
  if (length > 2 ** 32) throw new RangeError('a WAV file holds no more than 4 GiB');

  const bytes = new Uint8Array(length);
  const fields = view(bytes);
  const words = (at: number, text: string): void => {
    for (let n = 0; n < text.length; n++) bytes[at + n] = text.charCodeAt(n);
  };
  words(0, 'RIFF');
  fields.setUint32(4, length - 8, true);
  words(8, 'WAVEfmt ');
  fields.setUint32(16, fmtBytes, true);
  fields.setUint16(20, format === 'float' ? 3 : 1, true);
  fields.setUint16(22, channels.length, true);
  fields.setUint32(24, rate, true);
  fields.setUint32(28, rate * frameBytes, true);
  fields.setUint16(32, frameBytes, true);
  fields.setUint16(34, bits, true);
  if (format === 'float') {
    words(38, 'fact');
    fields.setUint32(42, 4, true);
    fields.setUint32(46, frames, true);
  }
  words(dataAt - 8, 'data');
  fields.setUint32(dataAt - 4, dataBytes, true);
  channels.forEach((samples, channel) => {
    const put = format === 'float' ? floatWriter(fields, bits) : pcmWriter(bytes, bits, dither, channel);
    for (let n = 0, at = dataAt + channel * sampleBytes; n < frames; n++, at += frameBytes) put(at, samples[n] ?? 0);
  });
  return bytes;
}

function floatWriter(fields: DataView, bits: number): (at: number, value: number) => void {
  return bits === 32
    ? (at, value) => {
        fields.setFloat32(at, value, true);
      }
    : (at, value) => {
        fields.setFloat64(at, value, true);
      };
}

function pcmWriter(
  bytes: Uint8Array,
  bits: number,
  dither: number | undefined,
  channel: number,
): (at: number, value: number) => void {
  const scale = 2 ** (bits - 1);
  const tremble = dither === undefined ? () => 0 : ditherOf(dither, channel);
  return (at, value) => {
    const wanted = value === 0 ? 0 : value * scale + tremble();
    const step = Math.min(Math.max(Math.round(wanted), -scale), scale - 1);
    for (let n = 0; n < bits / 8; n++) bytes[at + n] = (step >> (8 * n)) & 0xff;
  };
}
