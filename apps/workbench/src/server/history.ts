import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { FileText, KeptVersion, Version } from '../contract/files.ts';
import { codeOf, fileTrouble, refused, type Answer } from './answer.ts';
import { fileTextOf, readBytes, versionOf } from './file-text.ts';
import { confined } from './folder.ts';
import { dropFile, writeWhole } from './write-whole.ts';

/** Versions of a file that stay; the oldest goes first. */
export const keptVersions: number = 20;

/** When it was kept (`20260301T101530123Z`) and its version, so that the names alone tell both, in order. */
const ID = /^(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)(\d{3})Z-([0-9a-f]{64})$/;

/** Keeps a version of a file in the bench's folder, unless it is the one kept last. */
export async function keep(root: string, path: string, bytes: Uint8Array): Promise<Answer<null>> {
  const folder = await historyFolder(root, path);
  if (!folder.ok) return folder;
  const version = versionOf(bytes);
  try {
    const kept = await keptIn(folder.value);
    const [last] = kept;
    if (last?.version === version) return { ok: true, value: null };
    // Later than the last one also where the clock was set back: the order is that of the saves.
    const now = Math.max(Date.now(), last === undefined ? 0 : Date.parse(last.saved) + 1);
    await writeWhole(join(folder.value, idOf(now, version)), bytes);
    for (const { id } of kept.slice(keptVersions - 1)) await dropFile(join(folder.value, id));
    return { ok: true, value: null };
  } catch (trouble) {
    return fileTrouble(path, trouble);
  }
}

/** What is kept of a file, newest first. */
export async function history(root: string, path: string): Promise<Answer<readonly KeptVersion[]>> {
  const folder = await historyFolder(root, path);
  if (!folder.ok) return folder;
  try {
    return { ok: true, value: await keptIn(folder.value) };
  } catch (trouble) {
    return fileTrouble(path, trouble);
  }
}

export async function keptText(root: string, path: string, id: string): Promise<Answer<FileText>> {
  const folder = await historyFolder(root, path);
  if (!folder.ok) return folder;
  if (!ID.test(id)) return refused(404, `no such version of ${path} is kept; look at the list again`);
  const bytes = await readBytes(join(folder.value, id), path);
  return bytes.ok ? fileTextOf(path, bytes.value) : bytes;
}

function historyFolder(root: string, path: string): Promise<Answer<string>> {
  return confined(root, join(root, '.curvewright', 'history', ...path.split('/')), path);
}

async function keptIn(folder: string): Promise<readonly KeptVersion[]> {
  let names: readonly string[];
  try {
    names = await readdir(folder);
  } catch (trouble) {
    if (codeOf(trouble) === 'ENOENT') return [];
    throw trouble;
  }
  return names.flatMap(readId).sort((one, other) => (one.id < other.id ? 1 : -1));
}

function idOf(ms: number, version: Version): string {
  return `${new Date(ms).toISOString().replace(/[-:.]/g, '')}-${version}`;
}

function readId(id: string): readonly KeptVersion[] {
  const [, year, month, day, hour, minute, second, ms, version] = ID.exec(id) ?? [];
  if (version === undefined) return [];
  return [{ id, saved: `${year}-${month}-${day}T${hour}:${minute}:${second}.${ms}Z`, version }];
}
