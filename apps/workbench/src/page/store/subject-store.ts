import { batch, computed, signal, type ReadonlySignal } from '@preact/signals';
import type { Compute, Opened, SheetView, SubjectText } from '../../contract/compute.ts';
import { words } from '../words.ts';
import type { OpenFiles } from './open-files.ts';
import type { SlowStore } from './slow-store.ts';

/** The page's two workers of one kind: `quick` answers while `slow` computes what takes seconds. */
export interface Computers {
  readonly quick: Compute;
  readonly slow: Compute;
}

/** What is on the sheet, each part with the revision it is of. */
export interface SubjectStore {
  /** Counts up with every change of a text. */
  readonly revision: ReadonlySignal<number>;
  /** What was last opened, with its revision; null before the first. */
  readonly subject: ReadonlySignal<SubjectText | null>;
  readonly opened: ReadonlySignal<Opened | null>;
  /** The last sheet that could be computed; null before the first. */
  readonly view: ReadonlySignal<SheetView | null>;
  /** The last complete one. */
  readonly told: ReadonlySignal<SheetView | null>;
  /** What is shown is not that of the texts as they stand. */
  readonly viewIsOld: ReadonlySignal<boolean>;
  readonly toldIsOld: ReadonlySignal<boolean>;
  /** Why nothing can be computed, where not a text but a file is at fault. */
  readonly missing: ReadonlySignal<string | null>;
  /** Whether these texts are what was opened last, and nothing newer is on its way. */
  isOf(path: string, text: string, board: string | undefined): boolean;
  /**
   * Computes the subject at this path anew; texts that are not there yet are fetched. Comes back with the quick part,
   * false where something newer overtook it; what takes longer follows.
   */
  refresh(path: string, kind: 'job' | 'board'): Promise<boolean>;
  fail(why: string): void;
  /** Forgets what is shown: another subject comes. */
  clear(): void;
}

interface Dated {
  readonly revision: number;
  readonly view: SheetView;
}

export function subjectStore(files: OpenFiles, { quick, slow }: Computers, further: SlowStore): SubjectStore {
  const revision = signal(0);
  const subject = signal<SubjectText | null>(null);
  const opened = signal<Opened | null>(null);
  const view = signal<Dated | null>(null);
  const told = signal<Dated | null>(null);
  const missing = signal<string | null>(null);
  const lastBoard = new Map<string, string>();

  const isLast = (asked: number): boolean => revision.peek() === asked;

  async function textsOf(path: string, kind: 'job' | 'board', asked: number): Promise<SubjectText | string> {
    const own = await files.load(path);
    if (!own.ok) return words.noFile(path, own.message);
    const text = { path, text: own.value };
    if (kind === 'board') return { revision: asked, job: null, board: text };
    // A text that cannot be read names no board; its faults are found with the one it named before.
    const boardPath = (await quick.boardOf(text)) ?? lastBoard.get(path);
    if (boardPath === undefined) return words.noBoard(path);
    lastBoard.set(path, boardPath);
    const board = await files.load(boardPath);
    return board.ok
      ? { revision: asked, job: text, board: { path: boardPath, text: board.value } }
      : words.noFile(boardPath, board.message);
  }

  async function tell(texts: SubjectText): Promise<void> {
    const answer = await slow.slow({ kind: 'told', subject: texts, state: null }, () => undefined);
    if (answer.outcome !== 'answered' || !isLast(answer.revision)) return;
    told.value = { revision: answer.revision, view: answer.answer };
    await further.ask(
      texts,
      answer.answer.states.map(({ state }) => state),
    );
  }

  return {
    revision,
    subject,
    opened,
    missing,
    view: computed(() => view.value?.view ?? null),
    told: computed(() => told.value?.view ?? null),
    viewIsOld: computed(() => view.value?.revision !== revision.value),
    toldIsOld: computed(() => told.value?.revision !== revision.value),
    isOf(path, text, board) {
      const shown = subject.peek();
      if (shown === null || !isLast(shown.revision)) return false;
      const own = shown.job ?? shown.board;
      return own.path === path && own.text === text && shown.board.text === board;
    },
    async refresh(path, kind) {
      const asked = revision.peek() + 1;
      revision.value = asked;
      const texts = await textsOf(path, kind, asked);
      if (!isLast(asked)) return false;
      missing.value = typeof texts === 'string' ? texts : null;
      if (typeof texts === 'string') return true;
      const answer = await quick.open(texts);
      if (!isLast(asked)) return false;
      batch(() => {
        subject.value = texts;
        opened.value = answer;
        if (answer.ok) view.value = { revision: asked, view: answer.view };
      });
      if (answer.ok) void tell(texts);
      return true;
    },
    fail(why) {
      missing.value = why;
    },
    clear() {
      void slow.overtake(revision.peek());
      further.clear();
      revision.value = revision.peek() + 1;
      subject.value = null;
      opened.value = null;
      view.value = null;
      told.value = null;
      missing.value = null;
    },
  };
}
