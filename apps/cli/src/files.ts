import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { Diagnostic, Outcome } from '@curvewright/board';

/** Files above this size are no board and no job. */
const largest = 4 * 1024 * 1024;

/** Reads a text file as UTF-8; a file that cannot be read is a diagnostic at its first line. */
export function readText(file: string): Outcome<string> {
  try {
    const bytes = readFileSync(file);
    if (bytes.length > largest)
      return unreadable(file, `is larger than ${largest / 1024 / 1024} MiB; name a board or job file`);
    return { ok: true, value: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch (trouble) {
    return unreadable(file, reasonOf(trouble));
  }
}

interface Refused {
  readonly ok: false;
  readonly diagnostics: readonly Diagnostic[];
}

/** A file that is of no use, and why in words that follow "the file". */
export function unreadable(file: string, reason: string, column: number = 1): Refused {
  const place = { file, line: 1, column };
  return { ok: false, diagnostics: [{ code: 'unreadable-file', place, message: `the file ${reason}` }] };
}

/** Why a file cannot be read or written, in words. */
export function reasonOf(trouble: unknown): string {
  const code = trouble instanceof Error && 'code' in trouble ? trouble.code : undefined;
  switch (code) {
    case 'ENOENT':
      return 'is not there; check the path';
    case 'EISDIR':
      return 'is a folder; name a board or job file in it';
    case 'EACCES':
    case 'EPERM':
    case 'EROFS':
      return 'may not be opened here; check its permissions';
    case 'EEXIST':
      return 'is there already; name another folder, or move it away';
    case 'ENOSPC':
      return 'does not fit: the disk is full';
    case 'ERR_ENCODING_INVALID_ENCODED_DATA':
      return 'is not UTF-8 text; save it as UTF-8';
    default:
      return `cannot be used: ${trouble instanceof Error ? trouble.message : String(trouble)}`;
  }
}

/** Writes a whole file or leaves the old one: a temporary file beside it is put in its place. */
export function writeWhole(file: string, text: string): void {
  const temporary = join(dirname(file), `.${basename(file)}.${process.pid}.tmp`);
  writeFileSync(temporary, text);
  renameSync(temporary, file);
}

/** Writes a new file; throws with code EEXIST where one is there. */
export function writeNew(file: string, content: string | Uint8Array): void {
  writeFileSync(file, content, { flag: 'wx' });
}
