import { setImmediate } from 'node:timers/promises';
import type { Outcome } from '@curvewright/board';
import { decodeFrames, popDetector, type Pops, type WavHeader } from '@curvewright/capture';
import { reasonOf, unreadable } from './files.ts';
import type { OpenRecording } from './recording.ts';

/** What every channel of a recording has, as far as it was read. */
export interface Scan {
  readonly header: WavHeader;
  readonly found: readonly Pops[];
  /** s that were not read any more when the signal came. */
  readonly leftSeconds: number;
}

/** Frames read at a time. */
const piece = 32_768;

/** Reads a recording piece by piece and looks for pops in it; ends early, with what is known so far, when the signal comes. */
export async function scanForPops(
  file: string,
  { header, readInto }: Pick<OpenRecording, 'header' | 'readInto'>,
  threshold: number,
  signal: AbortSignal,
  progress: (words: string) => void,
): Promise<Outcome<Scan>> {
  const { rate, frames, frameBytes, dataAt } = header;
  if (frames === 0) return unreadable(file, 'holds no sound; record it anew');
  const step = header.format === 'pcm' ? 2 ** (1 - header.bits) : 0;
  const detectors = Array.from({ length: header.channels }, () => popDetector({ rate, step, threshold }));
  const samples = detectors.map(() => new Float32Array(piece));
  const bytes = new Uint8Array(piece * frameBytes);
  let done = 0;
  try {
    while (done < frames && !signal.aborted) {
      const count = Math.min(piece, frames - done);
      const length = readInto(dataAt + done * frameBytes, bytes.subarray(0, count * frameBytes));
      decodeFrames(bytes.subarray(0, length), header, samples);
      detectors.forEach((detector, c) => {
        detector.push(samples[c]?.subarray(0, count) ?? new Float32Array(0));
      });
      done += count;
      progress(`${file}: ${Math.floor((100 * done) / frames)} %`);
      // Ctrl-C and the terminal have their turn.
      await setImmediate();
    }
  } catch (trouble) {
    return unreadable(file, reasonOf(trouble));
  }
  return {
    ok: true,
    value: { header, found: detectors.map((detector) => detector.finish()), leftSeconds: (frames - done) / rate },
  };
}
