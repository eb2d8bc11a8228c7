import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import type { FileEntry, FileText, Version } from '../contract/files.ts';
import { fileTrouble, refused, type Answer } from './answer.ts';

/** Bytes; what is larger is no job, no board and no drawer. */
export const largest: number = 2 * 1024 * 1024;

export function versionOf(bytes: Uint8Array): Version {
  return createHash('sha256').update(bytes).digest('hex');
}

/** The bytes of a file of the bench; `path` is what it is called in a refusal. */
export async function readBytes(place: string, path: string): Promise<Answer<Buffer>> {
  try {
    const there = await stat(place);
    // Of a pipe or a device one could wait for ever.
    if (!there.isFile()) return refused(400, `${path} is no file; name a file`);
    if (there.size > largest) return refused(413, `${path} is larger than 2 MB; name a job, board or drawer`);
    return { ok: true, value: await readFile(place) };
  } catch (trouble) {
    return fileTrouble(path, trouble);
  }
}

/** The text, a byte order mark kept, so that it is written back as it was. */
export function fileTextOf(path: string, bytes: Uint8Array): Answer<FileText> {
  try {
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
    return { ok: true, value: { path, text, version: versionOf(bytes) } };
  } catch {
    return refused(415, `${path} is not UTF-8 text; save it as UTF-8 elsewhere first`);
  }
}

/** What a file is, by its name or else by the key it starts a line with: a job that does not read yet is still a job. */
export function kindOf(path: string, bytes: Buffer): FileEntry['kind'] {
  const named = /\.(job|board|types)\.ya?ml$/i.exec(path)?.[1];
  if (named !== undefined) return named.toLowerCase() as FileEntry['kind'];
  const text = bytes.toString('utf8').replace(/^\uFEFF/, '');
  if (/\.csv$/i.test(path)) return /^"?stock"?\s*[,;]/i.test(text) ? 'drawer' : 'other';
  if (/^job\s*:/m.test(text)) return 'job';
  if (/^board\s*:/m.test(text)) return 'board';
  return /^shop\s*:/m.test(text) ? 'shop' : 'other';
}
