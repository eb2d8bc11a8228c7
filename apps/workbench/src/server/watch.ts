import { watch, type FSWatcher } from 'node:fs';

/** ms between looks where the system tells of nothing, as on a network drive. */
const pause = 1500;

/** ms from the first sign of a change to the look: a program that saves makes several. */
const settling = 50;

/**
 * Looks when something happens in one of the folders that the last look went through, and every now and then anyway.
 * @returns ends it
 */
export function watchFolders(look: () => Promise<readonly string[]>): () => void {
  const watchers = new Map<string, FSWatcher>();
  let ended = false;
  let soon: NodeJS.Timeout | null = null;

  const lookNow = async (): Promise<void> => {
    soon = null;
    const folders = await look();
    if (ended) return;
    const present = new Set(folders);
    for (const folder of watchers.keys()) if (!present.has(folder)) drop(folder);
    for (const folder of present) if (!watchers.has(folder)) begin(folder);
  };
  const lookSoon = (): void => {
    soon ??= setTimeout(() => void lookNow(), settling);
  };
  const drop = (folder: string): void => {
    watchers.get(folder)?.close();
    watchers.delete(folder);
  };
  const begin = (folder: string): void => {
    try {
      const watcher = watch(folder, { persistent: false }, (_, name) => {
        // Our own files that are not in place yet, and what the bench hides.
        if (name?.startsWith('.') !== true) lookSoon();
      });
      watcher.on('error', () => {
        drop(folder);
      });
      watchers.set(folder, watcher);
    } catch {
      // Gone already, or the system takes no more watchers: the regular look sees to it.
    }
  };

  const regular = setInterval(lookSoon, pause);
  lookSoon();
  return () => {
    ended = true;
    clearInterval(regular);
    if (soon !== null) clearTimeout(soon);
    for (const folder of [...watchers.keys()]) drop(folder);
  };
}
