import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';

/** A file of this name in a folder or the nearest one above it, as a path from here where the folder's is one; null where there is none. */
export function nearestFile(folder: string, name: string): string | null {
  for (let at = folder; ; at = join(at, '..')) {
    const file = join(at, name);
    if (existsSync(file)) return file;
    if (resolve(at) === resolve(at, '..')) return null;
  }
}
