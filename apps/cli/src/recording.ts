import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import type { Outcome } from '@curvewright/board';
import { readWav, wavHeader, type ByteSource, type Wav, type WavFault, type WavHeader } from '@curvewright/capture';
import { reasonOf, unreadable } from './files.ts';

/** Longer recordings are read a piece at a time. */
const mostInMemory = 1024 ** 3;

/** Reads a whole WAV file. The byte that is wrong with it is the diagnostic's column, counted from 1. */
export function readRecording(file: string): Outcome<Wav> {
  const opened = openRecording(file);
  if (!opened.ok) return opened;
  const { source, close } = opened.value;
  try {
    if (source.length > mostInMemory) {
      return unreadable(file, `is larger than ${mostInMemory / 1024 ** 3} GiB; cut the recording to the test signal`);
    }
    const wav = readWav(source.read(0, source.length));
    return wav.ok ? wav : noRecording(file, wav.error);
  } catch (trouble) {
    return unreadable(file, reasonOf(trouble));
  } finally {
    close();
  }
}

/** A WAV file that is read where it is wanted, by `decodeFrames`; close it afterwards. */
export interface OpenRecording {
  readonly header: WavHeader;
  readonly source: ByteSource;
  /** Fills an array with the bytes from `at`, so that long files leave no litter; returns how many there were. */
  readonly readInto: (at: number, bytes: Uint8Array) => number;
  readonly close: () => void;
}

export function openRecording(file: string): Outcome<OpenRecording> {
  let handle: number;
  let length: number;
  try {
    handle = openSync(file, 'r');
    length = fstatSync(handle).size;
  } catch (trouble) {
    return unreadable(file, reasonOf(trouble));
  }
  const close = (): void => {
    closeSync(handle);
  };
  const readInto = (at: number, bytes: Uint8Array): number => readSync(handle, bytes, 0, bytes.length, at);
  const read = (at: number, wanted: number): Uint8Array => {
    const bytes = new Uint8Array(Math.max(0, Math.min(wanted, length - at)));
    return bytes.subarray(0, readInto(at, bytes));
  };
  const source = { length, read };
  try {
    const header = wavHeader(source);
    if (header.ok) return { ok: true, value: { header: header.value, source, readInto, close } };
    close();
    return noRecording(file, header.error);
  } catch (trouble) {
    close();
    return unreadable(file, reasonOf(trouble));
  }
}

function noRecording(file: string, { byte, message }: WavFault): Outcome<never> {
  return unreadable(file, message, byte + 1);
}
