import { view } from './chunks.ts';
import type { SampleFormat, WavFault } from './wav.ts';

/** What the `fmt ` chunk says. */
export interface SampleCoding {
  readonly rate: number;
  readonly bits: number;
  readonly format: SampleFormat;
  readonly channels: number;
  readonly sampleBytes: number;
}

const pcmTag = 1;
const floatTag = 3;
const extensibleTag = 0xfffe;

/** The rest of the GUIDs KSDATAFORMAT_SUBTYPE_PCM and _IEEE_FLOAT after their first two bytes, which are the tag (Microsoft, WAVEFORMATEXTENSIBLE). */
const subformatRest = [0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71];

/** Codings that a recorder may have been set to, by tag (IANA, RFC 2361). */
const compressed: Readonly<Record<number, string>> = {
  2: 'ADPCM',
  6: 'A-law',
  7: 'µ-law',
  0x11: 'ADPCM',
  0x31: 'GSM',
  0x50: 'MPEG',
  0x55: 'MP3',
};

/** More channels, or rates out of this range, are noise read as a header. */
const mostChannels = 32;
const [slowest, fastest] = [1000, 1_536_000];

/** Reads the content of a `fmt ` chunk that stands at byte `at` of its file. */
export function readSampleCoding(content: Uint8Array, at: number): SampleCoding | WavFault {
  if (content.length < 16)
    return wrong(at, `its format chunk has ${content.length} bytes of 16 or more; save the recording anew`);
  const fields = view(content);
  const written = fields.getUint16(0, true);
  const channels = fields.getUint16(2, true);
  const rate = fields.getUint32(4, true);
  const frameBytes = fields.getUint16(12, true);
  const containerBits = fields.getUint16(14, true);
  const extensible = written === extensibleTag;
  if (extensible && (content.length < 40 || !subformatRest.every((byte, n) => content[26 + n] === byte))) {
    return {
      code: 'unknown-coding',
      byte: at + 24,
      message: 'its samples are coded in no known way; export the recording as PCM',
    };
  }
  const tag = extensible ? fields.getUint16(24, true) : written;
  if (tag !== pcmTag && tag !== floatTag) {
    const name = compressed[tag] ?? `number ${tag}`;
    return {
      code: 'unknown-coding',
      byte: at,
      message: `its samples are coded as ${name}; export the recording as PCM`,
    };
  }
  if (channels < 1 || channels > mostChannels) {
    return wrong(at + 2, `it says ${channels} channels; save the recording with 1 to ${mostChannels}`);
  }
  if (rate < slowest || rate > fastest)
    return wrong(at + 4, `it says ${rate} frames a second; save the recording at 44100 or more`);
  const format = tag === floatTag ? 'float' : 'pcm';
  const sampleBytes = frameBytes / channels;
  const fits =
    format === 'float'
      ? (sampleBytes === 4 || sampleBytes === 8) && containerBits === 8 * sampleBytes
      : Number.isInteger(sampleBytes) &&
        sampleBytes <= 4 &&
        containerBits > 0 &&
        Math.ceil(containerBits / 8) <= sampleBytes;
  if (!fits) {
    return wrong(
      at + 12,
      `it says ${containerBits} bits in frames of ${frameBytes} bytes; save the recording as 16 or 24 bit PCM`,
    );
  }
  const valid = extensible ? fields.getUint16(18, true) : 0;
  const bits = valid > 0 && valid < containerBits ? valid : containerBits;
  return { rate, bits, format, channels, sampleBytes };
}

function wrong(byte: number, message: string): WavFault {
  return { code: 'wrong-format', byte, message };
}
