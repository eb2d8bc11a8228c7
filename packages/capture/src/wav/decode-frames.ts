import { view } from './chunks.ts';
import type { WavHeader } from './wav.ts';

/**
 * Decodes whole frames, one array a channel, full scale ±1 (0x8000 of 16 bits is −1); returns how many samples were no number (floating point only),
 * which are taken as 0. `bytes` starts at a frame; only frames that are whole in it and fit into the arrays are decoded. Throws a RangeError where
 * there are fewer arrays than channels.
 */
export function decodeFrames(
  bytes: Uint8Array,
  header: Pick<WavHeader, 'format' | 'channels' | 'sampleBytes' | 'frameBytes'>,
  into: readonly (Float32Array | Float64Array)[],
): number {
  const { format, channels, sampleBytes, frameBytes } = header;
  const sample = format === 'float' ? floatReader(view(bytes), sampleBytes) : pcmReader(bytes, sampleBytes);
  const frames = Math.floor(bytes.length / frameBytes);
  let notNumbers = 0;
  for (let channel = 0; channel < channels; channel++) {
    const samples = into[channel];
    if (!samples) throw new RangeError(`${into.length} arrays for ${channels} channels`);
    const count = Math.min(frames, samples.length);
    let at = channel * sampleBytes;
    for (let n = 0; n < count; n++) {
      const value = sample(at);
      if (Number.isFinite(value)) samples[n] = value;
      else {
        samples[n] = 0;
        notNumbers++;
      }
      at += frameBytes;
    }
  }
  return notNumbers;
}

function floatReader(from: DataView, sampleBytes: number): (at: number) => number {
  return sampleBytes === 4 ? (at) => from.getFloat32(at, true) : (at) => from.getFloat64(at, true);
}

/** Two's complement, least byte first; a byte alone is unsigned about 128. */
function pcmReader(bytes: Uint8Array, sampleBytes: number): (at: number) => number {
  const byte = (at: number): number => bytes[at] ?? 0;
  // Shifted to the top of 32 bits, the sign takes care of itself.
  switch (sampleBytes) {
    case 1:
      return (at) => (byte(at) - 128) / 2 ** 7;
    case 2:
      return (at) => ((byte(at) << 16) | (byte(at + 1) << 24)) / 2 ** 31;
    case 3:
      return (at) => ((byte(at) << 8) | (byte(at + 1) << 16) | (byte(at + 2) << 24)) / 2 ** 31;
    default:
      return (at) => (byte(at) | (byte(at + 1) << 8) | (byte(at + 2) << 16) | (byte(at + 3) << 24)) / 2 ** 31;
  }
}
