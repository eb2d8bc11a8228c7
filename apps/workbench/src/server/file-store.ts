import type { FileList, FileText, KeptVersion, OutsideChange, SaveRequest, Version } from '../contract/files.ts';
import type { Answer } from './answer.ts';
import { fileTextOf, kindOf, readBytes } from './file-text.ts';
import { placeOf } from './folder.ts';
import { history, keptText } from './history.ts';
import { lookThrough, type Seen } from './look.ts';
import { saveIn, type SaveOutcome } from './save.ts';
import { takingTurns } from './turns.ts';

/** The files of one bench. Saves and looks take turns, so that a look never takes a save of ours for somebody else's. */
export interface FileStore {
  list(): Promise<FileList>;
  read(path: string): Promise<Answer<FileText>>;
  /** `page` names the one that saves; it is not told of its own save. */
  save(request: SaveRequest, page: string | null): Promise<Answer<SaveOutcome>>;
  history(path: string): Promise<Answer<readonly KeptVersion[]>>;
  keptText(path: string, id: string): Promise<Answer<FileText>>;
  /** Tells of everything that changed since the last look; returns the folders looked through. */
  look(): Promise<readonly string[]>;
  /** Tells `page` of changes that are not its own, until the returned function is called. */
  listen(page: string | null, hear: (change: OutsideChange) => void): () => void;
  /** Resolves when nothing is being saved any longer. */
  rest(): Promise<void>;
}

interface Listener {
  readonly page: string | null;
  readonly hear: (change: OutsideChange) => void;
}

/**
 * @param root the folder, its links followed
 * @param folder the same as the person names it
 */
export async function openStore(root: string, folder: string): Promise<FileStore> {
  const inTurn = takingTurns();
  const listeners = new Set<Listener>();
  let seen: Seen = await lookThrough(root, null);

  const tell = (change: OutsideChange, by: string | null): void => {
    for (const { page, hear } of listeners) if (page === null || page !== by) hear(change);
  };
  const lookAgain = async (): Promise<Seen> => {
    const before = seen;
    seen = await lookThrough(root, before);
    for (const change of changesBetween(before, seen)) tell(change, null);
    return seen;
  };
  const record = (path: string, bytes: Buffer, version: Version): void => {
    const file = { path, kind: kindOf(path, bytes), version, modified: new Date().toISOString(), stamp: null };
    seen = { ...seen, files: new Map(seen.files).set(path, file) };
  };

  return {
    list: () =>
      inTurn(async () => {
        const { files, complete } = await lookAgain();
        const entries = [...files.values()].map(({ stamp: _, ...entry }) => entry);
        return { folder, files: entries, complete };
      }),
    read: async (path) => {
      const place = await placeOf(root, path);
      if (!place.ok) return place;
      const bytes = await readBytes(place.value, path);
      return bytes.ok ? fileTextOf(path, bytes.value) : bytes;
    },
    save: (request, page) =>
      inTurn(async () => {
        const outcome = await saveIn(root, request);
        if (!outcome.ok || !outcome.value.saved) return outcome;
        const { version } = outcome.value.answer;
        if (seen.files.get(request.path)?.version !== version) {
          record(request.path, Buffer.from(request.text), version);
          tell({ path: request.path, version }, page);
        }
        return outcome;
      }),
    history: (path) => withPlace(root, path, () => history(root, path)),
    keptText: (path, id) => withPlace(root, path, () => keptText(root, path, id)),
    look: () => inTurn(async () => (await lookAgain()).folders),
    listen: (page, hear) => {
      const listener = { page, hear };
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    rest: () => inTurn(() => Promise.resolve()),
  };
}

function changesBetween(before: Seen, after: Seen): readonly OutsideChange[] {
  const written = [...after.files.values()].filter(({ path, version }) => before.files.get(path)?.version !== version);
  const gone = [...before.files.keys()].filter((path) => !after.files.has(path));
  return [...written.map(({ path, version }) => ({ path, version })), ...gone.map((path) => ({ path, version: null }))];
}

async function withPlace<T>(root: string, path: string, ask: () => Promise<Answer<T>>): Promise<Answer<T>> {
  const place = await placeOf(root, path);
  return place.ok ? ask() : place;
}
