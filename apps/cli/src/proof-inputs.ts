import { createHash } from 'node:crypto';
import { closeSync, openSync, readSync } from 'node:fs';
import { dirname, isAbsolute, join, relative, sep } from 'node:path';
import type { Job, Outcome } from '@curvewright/board';
import type { ProofInput } from '@curvewright/report';
import { reasonOf, unreadable } from './files.ts';

/** A file that a document follows from, and what it is to it. */
export interface InputFile {
  readonly role: string;
  readonly path: string;
}

/** The job, its board, and all that was measured. */
export function jobFiles(file: string, { entry }: Job): readonly InputFile[] {
  const at = (path: string): string => (isAbsolute(path) ? path : join(dirname(file), path));
  const { response = {}, recordings = [], signal, loopback, shorted, adapter, chain } = entry.measured ?? {};
  return [
    { role: 'job', path: file },
    { role: 'board', path: at(entry.board) },
    ...Object.entries(response).map(([channel, path]) => ({ role: `response, ${channel}`, path: at(path) })),
    ...recordings.map((path) => ({ role: 'recording', path: at(path) })),
    ...Object.entries({ signal, loopback, shorted, adapter, chain }).flatMap(([role, path]) =>
      path === undefined || path === null ? [] : [{ role, path: at(path) }],
    ),
  ];
}

/** Words with the paths of files in them as from the job's folder: where that lies is nobody's business. */
export function withoutFolders(words: string, file: string, job: Job): string {
  return jobFiles(file, job).reduce((text, { path }) => text.replaceAll(path, relative(dirname(file), path)), words);
}

/** Their digests and sizes, named from a folder. */
export function hashInputs(files: readonly InputFile[], folder: string): Outcome<readonly ProofInput[]> {
  const inputs: ProofInput[] = [];
  for (const { role, path } of files) {
    try {
      inputs.push({ role, name: relative(folder, path).split(sep).join('/'), ...digestOf(path) });
    } catch (trouble) {
      return unreadable(path, reasonOf(trouble));
    }
  }
  return { ok: true, value: inputs };
}

/** Recordings are long: a piece at a time. */
const pieceSize = 1024 * 1024;

function digestOf(path: string): Pick<ProofInput, 'bytes' | 'sha256'> {
  const hash = createHash('sha256');
  const piece = new Uint8Array(pieceSize);
  const handle = openSync(path, 'r');
  try {
    let bytes = 0;
    for (let read = readSync(handle, piece); read > 0; read = readSync(handle, piece)) {
      hash.update(piece.subarray(0, read));
      bytes += read;
    }
    return { bytes, sha256: hash.digest('hex') };
  } finally {
    closeSync(handle);
  }
}
