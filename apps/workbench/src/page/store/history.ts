/** One change of one file, whole texts: small files, and what undo brings back is exactly what stood there. */
export interface Step {
  readonly path: string;
  readonly before: string;
  readonly after: string;
  /** For a person: `C103 value 33 µF`. */
  readonly what: string;
  /** Steps in a row with the same mark are one for the person, as the letters of a word; null stands alone. */
  readonly mark: string | null;
}

/** What was done in this session and can be undone, and what was undone and can be done again; newest last. */
export interface History {
  readonly done: readonly Step[];
  readonly undone: readonly Step[];
}

export const noHistory: History = { done: [], undone: [] };

/** Doing something new forgets what was undone. */
export function withStep({ done }: History, step: Step): History {
  const last = done.at(-1);
  const isOne = last !== undefined && step.mark !== null && last.mark === step.mark && last.path === step.path;
  const joined = isOne ? { ...step, before: last.before } : step;
  return { done: [...(isOne ? done.slice(0, -1) : done), joined], undone: [] };
}

/** The history without its last step, and that step: its `before` is to be written. Null where nothing is left. */
export function undo({ done, undone }: History): { readonly history: History; readonly step: Step } | null {
  const step = done.at(-1);
  return step === undefined ? null : { history: { done: done.slice(0, -1), undone: [...undone, step] }, step };
}

/** The history with the last undone step done again: its `after` is to be written. */
export function redo({ done, undone }: History): { readonly history: History; readonly step: Step } | null {
  const step = undone.at(-1);
  return step === undefined ? null : { history: { done: [...done, step], undone: undone.slice(0, -1) }, step };
}
