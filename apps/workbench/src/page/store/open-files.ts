import { batch, signal, type ReadonlySignal } from '@preact/signals';
import type { FileText, OutsideChange, Version } from '../../contract/files.ts';
import { words } from '../words.ts';
import type { BenchServer, Reply } from './bench-server.ts';

/** A file that the page holds. */
export interface OpenFile {
  readonly path: string;
  readonly text: string;
  /** What the disk held when it last agreed with the page; null: nothing. */
  readonly base: FileText | null;
  readonly saving: Saving;
}

export type Saving =
  | { readonly state: 'saved' | 'waiting' | 'saving' }
  | { readonly state: 'refused'; readonly message: string }
  /** Null: removed from the disk. */
  | { readonly state: 'conflict'; readonly theirs: FileText | null };

export type Choice = 'mine' | 'theirs';

/** What became of a file that something else wrote: taken over, put beside the page's own, or not the page's concern. */
export type OutsideEffect =
  | { readonly kind: 'taken'; readonly before: string; readonly after: string }
  | { readonly kind: 'conflict' | 'removed' | 'none' };

export interface OpenFiles {
  readonly files: ReadonlySignal<ReadonlyMap<string, OpenFile>>;
  /** Undefined where the page does not hold it. */
  textOf(path: string): string | undefined;
  /** From the disk, where the page does not hold it yet. */
  load(path: string): Promise<Reply<string>>;
  /** The text as it shall be; saved when the hand rests. */
  put(path: string, text: string): void;
  /** A new file; refused by a message where it is there already. */
  create(path: string, text: string): Promise<Reply<Version>>;
  outside(change: OutsideChange): Promise<OutsideEffect>;
  resolve(path: string, choice: Choice): void;
  /** At once: what was waiting or was refused. */
  saveNow(path: string): void;
}

/** Files as text with their saving. `rest` is the quiet time before a save, ms. */
export function openFiles(server: BenchServer, rest: number = 400): OpenFiles {
  const files = signal<ReadonlyMap<string, OpenFile>>(new Map());
  const timers = new Map<string, ReturnType<typeof setTimeout>>();
  /** Saves that the server has not answered yet. */
  const running = new Map<string, Promise<void>>();

  function set(file: OpenFile): void {
    files.value = new Map(files.peek()).set(file.path, file);
  }

  function schedule(path: string): void {
    clearTimeout(timers.get(path));
    timers.set(
      path,
      setTimeout(() => {
        save(path);
      }, rest),
    );
  }

  function save(path: string): void {
    const file = files.peek().get(path);
    if (file === undefined || file.saving.state === 'saving' || file.saving.state === 'conflict') return;
    set({ ...file, saving: { state: 'saving' } });
    running.set(path, write(file));
  }

  async function write(file: OpenFile): Promise<void> {
    const { path, text } = file;
    const reply = await server.save({ path, text, base: file.base?.version ?? null });
    const now = files.peek().get(path) ?? file;
    if (reply.outcome === 'conflict') {
      settle(now, reply.theirs);
    } else if (reply.outcome === 'refused') {
      set({ ...now, saving: { state: 'refused', message: reply.message } });
    } else {
      const base = { path, text, version: reply.saved.version };
      set({ ...now, base, saving: { state: now.text === text ? 'saved' : 'waiting' } });
      if (now.text !== text) schedule(path);
    }
  }

  /** Another text on the disk than the page was built on: no conflict where both say the same. */
  function settle(file: OpenFile, theirs: FileText | null): void {
    const isSame = theirs !== null && theirs.text === file.text;
    set(
      isSame
        ? { ...file, base: theirs, saving: { state: 'saved' } }
        : { ...file, saving: { state: 'conflict', theirs } },
    );
  }

  return {
    files,
    textOf: (path) => files.peek().get(path)?.text,
    async load(path) {
      const held = files.peek().get(path);
      if (held) return { ok: true, value: held.text };
      const reply = await server.read(path);
      if (!reply.ok) return reply;
      // A second load may have come first, and the person may have written since.
      if (!files.peek().has(path)) set({ path, text: reply.value.text, base: reply.value, saving: { state: 'saved' } });
      return { ok: true, value: files.peek().get(path)?.text ?? reply.value.text };
    },
    put(path, text) {
      const file = files.peek().get(path);
      if (file === undefined || file.text === text) return;
      const isHeld = file.saving.state === 'conflict' || file.saving.state === 'saving';
      set({ ...file, text, saving: isHeld ? file.saving : { state: 'waiting' } });
      if (!isHeld) schedule(path);
    },
    async create(path, text) {
      const reply = await server.save({ path, text, base: null });
      if (reply.outcome === 'conflict') return { ok: false, message: words.exists(path) };
      if (reply.outcome === 'refused') return { ok: false, message: reply.message };
      const { version } = reply.saved;
      set({ path, text, base: { path, text, version }, saving: { state: 'saved' } });
      return { ok: true, value: version };
    },
    async outside({ path, version }) {
      // A save of our own may be what is told of; its answer brings the version.
      await running.get(path);
      const held = files.peek().get(path);
      if (held === undefined || held.base?.version === version) return { kind: 'none' };
      const reply = version === null ? null : await server.read(path);
      if (reply?.ok === false) return { kind: 'none' };
      const file = files.peek().get(path) ?? held;
      const theirs = reply?.value ?? null;
      if (file.base?.version === theirs?.version) return { kind: 'none' };
      if (theirs === null || file.text !== file.base?.text) {
        settle(file, theirs);
        return { kind: theirs === null ? 'removed' : 'conflict' };
      }
      set({ path, text: theirs.text, base: theirs, saving: { state: 'saved' } });
      return { kind: 'taken', before: file.text, after: theirs.text };
    },
    resolve(path, choice) {
      const file = files.peek().get(path);
      if (file?.saving.state !== 'conflict') return;
      const { theirs } = file.saving;
      batch(() => {
        if (choice === 'theirs' && theirs !== null) {
          set({ path, text: theirs.text, base: theirs, saving: { state: 'saved' } });
        } else {
          set({ ...file, base: theirs, saving: { state: 'waiting' } });
          schedule(path);
        }
      });
    },
    saveNow(path) {
      clearTimeout(timers.get(path));
      save(path);
    },
  };
}
