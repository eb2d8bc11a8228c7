import { signal, type ReadonlySignal } from '@preact/signals';
import type { JobEdit } from '@curvewright/board';
import type { Compute } from '../../contract/compute.ts';
import { words } from '../words.ts';
import { noHistory, redo, undo, withStep, type History, type Step } from './history.ts';
import type { OpenFiles } from './open-files.ts';

/** Every change of a text goes through here, so that the whole session can be undone. */
export interface Edits {
  readonly history: ReadonlySignal<History>;
  /** What is wrong with an edit of a job, in words; null where it is done. Edits wait for each other. */
  editJob(path: string, edit: JobEdit, what: string): Promise<string | null>;
  /** Steps in a row with the same `mark` are undone together. */
  editText(path: string, text: string, what: string, mark?: string | null): void;
  /** A change that has been made already. */
  record(step: Step): void;
  /** What was undone, in words; null where there is nothing. */
  undo(): string | null;
  redo(): string | null;
}

export function createEdits(files: OpenFiles, quick: Compute): Edits {
  const history = signal<History>(noHistory);
  let last: Promise<unknown> = Promise.resolve();

  function record(step: Step): void {
    if (step.before !== step.after) history.value = withStep(history.peek(), step);
  }

  function editText(path: string, text: string, what: string, mark: string | null = null): void {
    const before = files.textOf(path);
    if (before === undefined) return;
    record({ path, before, after: text, what, mark });
    files.put(path, text);
  }

  async function edited(path: string, edit: JobEdit, what: string): Promise<string | null> {
    const text = files.textOf(path);
    if (text === undefined) return words.noFile(path, words.notStated);
    const answer = await quick.edit({ revision: 0, job: { path, text }, edit });
    if (!answer.ok) return answer.diagnostics.map(({ message }) => message).join(' ');
    editText(path, answer.text, what);
    return null;
  }

  function travel(moved: ReturnType<typeof undo>, side: 'before' | 'after'): string | null {
    if (moved === null) return null;
    history.value = moved.history;
    files.put(moved.step.path, moved.step[side]);
    return moved.step.what;
  }

  return {
    history,
    record,
    editText,
    editJob(path, edit, what) {
      const done = last.then(() => edited(path, edit, what));
      last = done;
      return done;
    },
    undo: () => travel(undo(history.peek()), 'before'),
    redo: () => travel(redo(history.peek()), 'after'),
  };
}
