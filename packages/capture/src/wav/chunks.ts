import type { ByteSource, WavFault } from './wav.ts';

/** One chunk of a RIFF file: its four letters, where its content starts, and how long the file says it is. */
export interface Chunk {
  readonly id: string;
  readonly at: number;
  /** Null where the file was too large, or its recorder too hasty, to say. */
  readonly size: number | null;
}

/** The chunks up to the sound, and what was odd about them. */
export interface Chunks {
  readonly list: readonly Chunk[];
  readonly lost: readonly string[];
}

const headBytes = 8;
/** A recorder writes a handful; a file that claims thousands is noise read as chunks. */
const mostChunks = 1000;
/** What stands in place of a size that does not fit into 32 bits, or was never filled in. */
const unsaid = 0xffffffff;

/**
 * The chunks of a RIFF WAVE file up to and with the first `data`, each padded to an even length (Microsoft and IBM, Multimedia
 * Programming Interface and Data Specifications 1.0, 1991), or of its 64-bit form RF64 (EBU Tech 3306). What is no chunk ends the list.
 */
export function readChunks(source: ByteSource): Chunks | WavFault {
  const riff = source.read(0, 12);
  const kind = letters(riff, 0);
  if (kind === 'RIFX') return notWav('is big-endian (RIFX); save it as an ordinary WAV file');
  if ((kind !== 'RIFF' && kind !== 'RF64') || letters(riff, 8) !== 'WAVE') {
    return notWav(
      source.length === 0 ? 'is empty; record it anew' : 'is no WAV file; export the recording as WAV (PCM)',
    );
  }
  const list: Chunk[] = [];
  const lost: string[] = [];
  let longData: number | null = null;
  let at = riff.length;
  while (at + headBytes <= source.length && list.length < mostChunks) {
    const id = letters(source.read(at, 4), 0);
    if (!/^[\x20-\x7e]{4}$/.test(id)) {
      lost.push(`at byte ${at} stands no chunk; what follows was not read`);
      break;
    }
    const written = view(source.read(at + 4, 4)).getUint32(0, true);
    const content = at + headBytes;
    if (id === 'ds64' && written >= 16) longData = long(source.read(content + 8, 8));
    if (id === 'data') {
      list.push({ id, at: content, size: written === unsaid ? longData : written });
      break;
    }
    list.push({ id, at: content, size: written });
    const end = content + written;
    const unpadded = written % 2 === 1 && !isKnown(source, end + 1) && isKnown(source, end);
    if (unpadded) lost.push(`chunk "${id}" lacks its padding byte; read on without it`);
    at = end + (written % 2 === 1 && !unpadded ? 1 : 0);
  }
  return { list, lost };
}

function notWav(message: string): WavFault {
  return { code: 'not-wav', byte: 0, message };
}

function isKnown(source: ByteSource, at: number): boolean {
  return ['fmt ', 'data', 'LIST', 'fact', 'bext', 'JUNK'].includes(letters(source.read(at, 4), 0));
}

function letters(bytes: Uint8Array, at: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + 4));
}

/** A 64-bit size as far as it can be one. */
function long(bytes: Uint8Array): number | null {
  if (bytes.length < 8) return null;
  const size = view(bytes).getBigUint64(0, true);
  return size <= BigInt(Number.MAX_SAFE_INTEGER) ? Number(size) : null;
}

export function view(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}
