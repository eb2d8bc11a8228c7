import { signal, type ReadonlySignal } from '@preact/signals';
import type { Compute, Glance, TextOf } from '../../contract/compute.ts';
import type { FileEntry, FileList } from '../../contract/files.ts';
import type { BenchServer } from './bench-server.ts';

/** The folder, and its jobs and boards at a glance. */
export interface BenchList {
  /** Null before the first answer. */
  readonly list: ReadonlySignal<FileList | null>;
  /** Why there is no list. */
  readonly trouble: ReadonlySignal<string | null>;
  /** By path; absent while it is being computed. */
  readonly glances: ReadonlySignal<ReadonlyMap<string, Glance>>;
  fetch(): Promise<void>;
  /** Computes what is not known of the files as they stand, one after the other. */
  look(): Promise<void>;
}

export function benchList(server: BenchServer, compute: Compute): BenchList {
  const list = signal<FileList | null>(null);
  const trouble = signal<string | null>(null);
  const glances = signal<ReadonlyMap<string, Glance>>(new Map());
  /** What each glance was of: the texts. */
  const known = new Map<string, string>();
  let round = 0;

  function put(path: string, glance: Glance | null): void {
    const all = new Map(glances.peek());
    if (glance === null) all.delete(path);
    else all.set(path, glance);
    glances.value = all;
  }

  async function textOf(path: string): Promise<TextOf | null> {
    const reply = await server.read(path);
    return reply.ok ? { path, text: reply.value.text } : null;
  }

  async function glanceAt(entry: FileEntry, mine: number): Promise<void> {
    const own = await textOf(entry.path);
    const boardPath = own && entry.kind === 'job' ? await compute.boardOf(own) : null;
    const board = entry.kind === 'board' ? own : boardPath === null ? null : await textOf(boardPath);
    if (own === null || board === null) {
      put(entry.path, { revision: mine, ok: false, diagnostics: [] });
      return;
    }
    const mark = `${own.text}\n${board.text}`;
    if (known.get(entry.path) === mark) return;
    // What was known is of another text.
    put(entry.path, null);
    const job = entry.kind === 'job' ? own : null;
    const glance = await compute.glance({ revision: mine, job, board });
    known.set(entry.path, mark);
    put(entry.path, glance);
  }

  return {
    list,
    trouble,
    glances,
    async fetch() {
      const reply = await server.list();
      trouble.value = reply.ok ? null : reply.message;
      if (reply.ok) list.value = reply.value;
    },
    async look() {
      const mine = ++round;
      for (const entry of list.peek()?.files ?? []) {
        if (mine !== round) return;
        if (entry.kind === 'job' || entry.kind === 'board') await glanceAt(entry, mine);
      }
    },
  };
}
