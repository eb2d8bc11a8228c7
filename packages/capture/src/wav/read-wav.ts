import { bytesInMemory } from './byte-source.ts';
import { decodeFrames } from './decode-frames.ts';
import type { Wav, WavOutcome } from './wav.ts';
import { wavHeader } from './wav-header.ts';

/** Reads a whole recording; an hour is better read a piece at a time, by `wavHeader` and `decodeFrames`. */
export function readWav(bytes: Uint8Array): WavOutcome<Wav> {
  const outcome = wavHeader(bytesInMemory(bytes));
  if (!outcome.ok) return outcome;
  const header = outcome.value;
  const { rate, bits, format, frames, frameBytes, dataAt } = header;
  const channels = Array.from({ length: header.channels }, () => new Float64Array(frames));
  const notNumbers = decodeFrames(bytes.subarray(dataAt, dataAt + frames * frameBytes), header, channels);
  const lost =
    notNumbers > 0 ? [...header.lost, `${notNumbers} samples are no numbers and were taken as 0`] : header.lost;
  return { ok: true, value: { rate, bits, format, channels, frames, lost } };
}
