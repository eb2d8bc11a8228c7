/** How samples are coded: integers scaled to ±1 by their container's full scale, or floating point as it stands. */
export type SampleFormat = 'pcm' | 'float';

/** What a WAV file says of itself: all that is needed to read its frames a piece at a time. */
export interface WavHeader {
  /** Frames a second. */
  readonly rate: number;
  /** Bits of a sample that count; its container may be wider. */
  readonly bits: number;
  readonly format: SampleFormat;
  /** Number of channels. */
  readonly channels: number;
  /** Bytes of one sample's container: 1 to 4 of `pcm`, 4 or 8 of `float`. */
  readonly sampleBytes: number;
  /** Bytes of one frame: one sample of every channel. */
  readonly frameBytes: number;
  /** Where the first frame starts, in bytes from the start of the file. */
  readonly dataAt: number;
  /** Whole frames that are there. */
  readonly frames: number;
  /** What a truncated or odd file lost or had to be taken as, one sentence each; empty for a sound file. */
  readonly lost: readonly string[];
}

/** A recording in memory. */
export interface Wav {
  readonly rate: number;
  readonly bits: number;
  readonly format: SampleFormat;
  /** One array a channel, all of the same length, full scale ±1. */
  readonly channels: readonly Float64Array[];
  readonly frames: number;
  readonly lost: readonly string[];
}

/** Why a file cannot be read as a recording. */
export type WavFaultCode = 'not-wav' | 'no-format' | 'no-data' | 'unknown-coding' | 'wrong-format';

export interface WavFault {
  readonly code: WavFaultCode;
  /** Where it is wrong, in bytes from the start of the file. */
  readonly byte: number;
  /** One line: what is wrong; what to do. */
  readonly message: string;
}

export type WavOutcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: WavFault };

/** Bytes that are read where they are wanted, so that an hour of sound need not be in memory. */
export interface ByteSource {
  /** Of the whole file. */
  readonly length: number;
  /** Up to `length` bytes from `at`; fewer only where the file ends. */
  readonly read: (at: number, length: number) => Uint8Array;
}
