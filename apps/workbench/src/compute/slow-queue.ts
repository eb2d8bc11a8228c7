import type { Steps } from '@curvewright/verify';

/** Runs slow work one piece after the other, and drops what something newer has overtaken. */
export interface SlowQueue {
  /** Null where the work was overtaken, before it began or between two of its steps. */
  run<T>(revision: number, begin: () => Steps<T>, progress: (share: number) => void): Promise<{ answer: T } | null>;
  /** Nothing of this revision or before is wanted any longer. */
  overtake(revision: number): void;
  /** Work that steps aside for all that is run, and is never overtaken. */
  runAside<T>(begin: () => Steps<T>): Promise<T>;
}

/** ms of work between two looks at what else has come in. */
const turn = 25;

export function slowQueue(): SlowQueue {
  let oldest = -Infinity;
  let last: Promise<unknown> = Promise.resolve();
  let lastAside: Promise<unknown> = Promise.resolve();
  let waiting = 0;

  async function work<T>(
    revision: number,
    begin: () => Steps<T>,
    progress: (share: number) => void,
  ): Promise<{ answer: T } | null> {
    await messagesRead();
    if (revision < oldest) return null;
    const steps = begin();
    for (;;) {
      const { done, value } = workOn(steps);
      if (done === true) return { answer: value };
      progress(value);
      await messagesRead();
      if (revision < oldest) return null;
    }
  }

  async function workAside<T>(begin: () => Steps<T>): Promise<T> {
    const steps = begin();
    for (;;) {
      await messagesRead();
      while (waiting > 0) await last;
      const { done, value } = workOn(steps);
      if (done === true) return value;
    }
  }

  return {
    run(revision, begin, progress) {
      oldest = Math.max(oldest, revision);
      waiting++;
      const mine = last.then(() => work(revision, begin, progress)).finally(() => waiting--);
      last = mine.catch(() => undefined);
      return mine;
    },
    overtake(revision) {
      oldest = Math.max(oldest, revision + 1);
    },
    runAside(begin) {
      const mine = lastAside.then(() => workAside(begin));
      lastAside = mine.catch(() => undefined);
      return mine;
    },
  };
}

/** Steps for the length of a turn; the last one's result. */
function workOn<T>(steps: Steps<T>): IteratorResult<number, T> {
  const began = performance.now();
  for (;;) {
    const step = steps.next();
    if (step.done === true || performance.now() - began >= turn) return step;
  }
}

/** Messages wait while a thread works: they are delivered in a turn of their own. */
function messagesRead(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve));
}
