import { mkdir, readdir, readFile, realpath } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { fileTrouble, type Answer } from './answer.ts';
import type { FileStore } from './file-store.ts';

/** What a new bench starts with; in an installed package it lies beside the server. */
const seeds = fileURLToPath(
  new URL(import.meta.url.endsWith('.ts') ? '../../../../seeds/' : '../seeds/', import.meta.url),
);

export interface ReadyFolder {
  /** Its links followed. */
  readonly root: string;
  /** There was nothing in it. */
  readonly empty: boolean;
}

/** Makes the folder of a bench where there is none. */
export async function readyFolder(folder: string): Promise<Answer<ReadyFolder>> {
  try {
    await mkdir(folder, { recursive: true });
    return { ok: true, value: { root: await realpath(folder), empty: (await readdir(folder)).length === 0 } };
  } catch (trouble) {
    return fileTrouble(folder, trouble);
  }
}

/** Copies the demo boards, job and drawer into the bench's folder; how many files. */
export async function copySeeds(store: FileStore): Promise<Answer<number>> {
  const entries = await readdir(seeds, { recursive: true, withFileTypes: true });
  const files = entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  for (const file of files) {
    const path = relative(seeds, file).split(sep).join('/');
    const saved = await store.save({ path, text: await readFile(file, 'utf8'), base: null }, null);
    if (!saved.ok) return saved;
  }
  return { ok: true, value: files.length };
}
