import type { ByteSource } from './wav.ts';

/** A file that is in memory. */
export function bytesInMemory(bytes: Uint8Array): ByteSource {
  return { length: bytes.length, read: (at, length) => bytes.subarray(at, at + length) };
}
