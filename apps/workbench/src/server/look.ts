import { readdir, stat } from 'node:fs/promises';
import type { Dirent } from 'node:fs';
import { join } from 'node:path';
import type { FileEntry } from '../contract/files.ts';
import { kindOf, readBytes, versionOf } from './file-text.ts';
import { pathTrouble, placeOf } from './folder.ts';

/** What was seen of a folder at one time. */
export interface Seen {
  readonly files: ReadonlyMap<string, SeenFile>;
  /** Full names of the folders that were looked through. */
  readonly folders: readonly string[];
  /** False where the folder holds more than is looked through. */
  readonly complete: boolean;
}

export interface SeenFile extends FileEntry {
  /** Of a file that keeps it, the bytes are taken to be the same; null: it was written too shortly before to tell. */
  readonly stamp: string | null;
}

/** Names, and folders inside folders, that a bench looks through: enough for a shop, little enough for a person's whole home. */
const most = { names: 5000, deep: 8 };

/** ms in which a file can change twice and keep its time. */
const coarsestClock = 1000;

/** Every file of the bench in a folder; only what changed since `before` is read. */
export async function lookThrough(root: string, before: Seen | null): Promise<Seen> {
  const { paths, folders, complete } = await namesIn(root);
  const files = new Map<string, SeenFile>();
  for (const path of paths) {
    const file = await seenFile(root, path, before?.files.get(path));
    if (file !== null) files.set(path, file);
  }
  return { files, folders, complete };
}

async function namesIn(root: string): Promise<{ paths: string[]; folders: string[]; complete: boolean }> {
  const paths: string[] = [];
  const folders: string[] = [];
  const waiting: { path: string; depth: number }[] = [{ path: '', depth: 0 }];
  let complete = true;
  let names = 0;
  for (let at = waiting.shift(); at !== undefined; at = waiting.shift()) {
    const { path, depth } = at;
    const entries = await entriesOf(join(root, path));
    names += entries.length;
    if (names > most.names || depth > most.deep) {
      complete = false;
      continue;
    }
    folders.push(join(root, path));
    for (const entry of entries) {
      const inside = path === '' ? entry.name : `${path}/${entry.name}`;
      if (entry.name.startsWith('.') || entry.name === 'node_modules') continue;
      // A link to a folder is not followed: it may lead round in a circle.
      if (entry.isDirectory()) waiting.push({ path: inside, depth: depth + 1 });
      else if (pathTrouble(inside) === null) paths.push(inside);
    }
  }
  return { paths: paths.sort(), folders, complete };
}

/** Empty for a folder that is gone or closed to us. */
async function entriesOf(folder: string): Promise<readonly Dirent[]> {
  try {
    return await readdir(folder, { withFileTypes: true });
  } catch {
    return [];
  }
}

/** Null for what is gone meanwhile, is no file, too large, or leads out of the folder. */
async function seenFile(root: string, path: string, before: SeenFile | undefined): Promise<SeenFile | null> {
  const place = await placeOf(root, path);
  if (!place.ok) return null;
  try {
    const { mtime, size, ctimeMs, ctimeNs, ino } = await stat(place.value, { bigint: true });
    const stamp = `${ino} ${size} ${ctimeNs}`;
    if (before?.stamp === stamp) return before;
    const settled = Date.now() - Number(ctimeMs) > coarsestClock;
    const bytes = await readBytes(place.value, path);
    if (!bytes.ok) return null;
    return {
      path,
      kind: kindOf(path, bytes.value),
      version: versionOf(bytes.value),
      modified: mtime.toISOString(),
      stamp: settled ? stamp : null,
    };
  } catch {
    return null;
  }
}
