import { readChunks } from './chunks.ts';
import { readSampleCoding } from './sample-coding.ts';
import type { ByteSource, WavFault, WavHeader, WavOutcome } from './wav.ts';

/**
 * Finds format and sound of a RIFF WAVE or RF64 file: PCM of 8 to 32 bits, floating point of 32 or 64, plain or extensible. A file that ends early,
 * or whose recorder never filled the length in, is read as far as it goes, and `lost` says so.
 */
export function wavHeader(source: ByteSource): WavOutcome<WavHeader> {
  const chunks = readChunks(source);
  if ('code' in chunks) return refused(chunks);
  const { list } = chunks;
  const fmt = list.find(({ id }) => id === 'fmt ');
  const data = list.find(({ id }) => id === 'data');
  if (!fmt) {
    return refused({
      code: 'no-format',
      byte: 12,
      message: 'it does not say how its samples are coded; save the recording anew',
    });
  }
  const coding = readSampleCoding(source.read(fmt.at, Math.min(fmt.size ?? 0, 64)), fmt.at);
  if ('code' in coding) return refused(coding);
  if (!data)
    return refused({ code: 'no-data', byte: source.length, message: 'it ends before any sound; record it anew' });

  const lost = [...chunks.lost];
  const frameBytes = coding.channels * coding.sampleBytes;
  const there = source.length - data.at;
  const seconds = (bytes: number): string => (bytes / frameBytes / coding.rate).toFixed(3);
  let bytes = Math.min(data.size ?? there, there);
  if (data.size === null || (data.size === 0 && there > 0)) {
    bytes = there;
    lost.push(`its length was never filled in; taken to the end of the file, ${seconds(there)} s`);
  } else if (data.size > there) {
    lost.push(`it ends early: ${seconds(there)} s of ${seconds(data.size)} s are there`);
  }
  const frames = Math.floor(bytes / frameBytes);
  const odd = bytes - frames * frameBytes;
  if (odd > 0) lost.push(`its last ${odd} bytes are no whole frame of ${frameBytes} and were left out`);
  return { ok: true, value: { ...coding, frameBytes, dataAt: data.at, frames, lost } };
}

function refused(error: WavFault): { readonly ok: false; readonly error: WavFault } {
  return { ok: false, error };
}
