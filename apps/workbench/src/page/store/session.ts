import { computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { words } from '../words.ts';
import { benchList, type BenchList } from './bench-list.ts';
import type { BenchServer } from './bench-server.ts';
import { createEdits, type Edits } from './edits.ts';
import { createHand, type Hand } from './hand.ts';
import { openFiles, type Choice, type OpenFile, type OpenFiles } from './open-files.ts';
import type { Route } from './route.ts';
import { slowStore, type SlowStore } from './slow-store.ts';
import { subjectStore, type Computers, type SubjectStore } from './subject-store.ts';

/** All that the page knows and can do; views read the signals and call the rest. */
export interface Session {
  readonly server: BenchServer;
  readonly route: Signal<Route>;
  readonly bench: BenchList;
  readonly files: OpenFiles;
  readonly edits: Edits;
  readonly subject: SubjectStore;
  readonly slow: SlowStore;
  readonly hand: Hand;
  /** The key of the row in hand. */
  readonly rowInHand: Signal<string | null>;
  /** The last thing worth saying, for eye and ear. */
  readonly notice: Signal<string | null>;
  /** Whether the line to the server stands. */
  readonly isConnected: Signal<boolean>;
  /** The file on the sheet or in the text view; null in the list and before it has come. */
  readonly file: ReadonlySignal<OpenFile | null>;
  readonly undo: () => void;
  readonly redo: () => void;
  readonly resolve: (path: string, choice: Choice) => void;
  /** Keeps the page's own text under a new name and takes what is on the disk. */
  readonly saveCopy: (path: string) => Promise<void>;
  /** Begins a job and opens it; what is wrong otherwise, in words. `date` as it shall stand in the file. */
  readonly newJob: (board: string, title: string, date: string) => Promise<string | null>;
}

export interface Outfit {
  readonly server: BenchServer;
  readonly computers: Computers;
  readonly route: Route;
}

export function createSession({ server, computers, route: first }: Outfit): Session {
  const route = signal<Route>(first);
  const files = openFiles(server);
  const bench = benchList(server, computers.slow);
  const edits = createEdits(files, computers.quick);
  const slow = slowStore(computers.slow);
  const subject = subjectStore(files, computers, slow);
  const notice = signal<string | null>(null);
  const path = computed(() => ('path' in route.value ? route.value.path : null));

  function resolve(path: string, choice: Choice): void {
    const before = files.textOf(path) ?? '';
    files.resolve(path, choice);
    edits.record({ path, before, after: files.textOf(path) ?? '', what: words.change.theirs, mark: null });
  }

  /** The step may be of a file that is not in view: show what has changed. */
  function say(what: string | null, done: (what: string) => string): void {
    if (what !== null) notice.value = done(what);
  }

  return {
    ...{ server, route, bench, files, edits, subject, slow, notice, resolve },
    hand: createHand(computers),
    rowInHand: signal<string | null>(null),
    isConnected: signal(true),
    file: computed(() => (path.value === null ? null : (files.files.value.get(path.value) ?? null))),
    undo() {
      say(edits.undo(), words.undone);
    },
    redo() {
      say(edits.redo(), words.redone);
    },
    async saveCopy(path) {
      for (let n = 1; ; n++) {
        const copy = path.replace(/((\.job|\.board)?\.[^./]+)?$/, `-${n}$1`);
        const made = await files.create(copy, files.textOf(path) ?? '');
        if (!made.ok && made.message === words.exists(copy)) continue;
        notice.value = made.ok ? words.copied(copy) : words.notSaved(made.message);
        if (made.ok) resolve(path, 'theirs');
        await bench.fetch();
        return;
      }
    },
    async newJob(board, title, date) {
      const path = `jobs/${fileNameFor(title)}.job.yaml`;
      const made = await files.create(path, await computers.quick.jobFor({ path, board, title, date }));
      if (!made.ok) return made.message;
      await bench.fetch();
      route.value = { view: 'sheet', path };
      notice.value = words.madeJob(path);
      return null;
    },
  };
}

/** A title's letters and digits, joined by hyphens. */
function fileNameFor(title: string): string {
  const name = title
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '');
  return name === '' ? 'job' : name;
}
