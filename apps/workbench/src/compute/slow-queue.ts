import type { Steps } from '@curvewright/verify';

/** Runs slow work one piece after the other, and drops what something newer has overtaken. */
export interface SlowQueue {
  /** Null where the work was overtaken, before it began or between two of its steps. */
  run<T>(revision: number, begin: () => Steps<T>, progress: (share: number) => void): Promise<{ answer: T } | null>;
  /** Nothing of this revision or before is wanted any longer. */
  overtake(revision: number): void;
}

/** ms of work between two looks at what else has come in. */
const turn = 25;

export function slowQueue(): SlowQueue {
  let oldest = -Infinity;
  let last: Promise<unknown> = Promise.resolve();

  async function work<T>(
    revision: number,
    begin: () => Steps<T>,
    progress: (share: number) => void,
  ): Promise<{ answer: T } | null> {
    if (revision < oldest) return null;
    const steps = begin();
    let began = performance.now();
    for (;;) {
      const { done, value } = steps.next();
      if (done === true) return { answer: value };
      if (performance.now() - began < turn) continue;
      progress(value);
      await messagesRead();
      if (revision < oldest) return null;
      began = performance.now();
    }
  }

  return {
    run(revision, begin, progress) {
      oldest = Math.max(oldest, revision);
      const mine = last.then(() => messagesRead()).then(() => work(revision, begin, progress));
      last = mine.catch(() => undefined);
      return mine;
    },
    overtake(revision) {
      oldest = Math.max(oldest, revision + 1);
    },
  };
}

/** Messages wait while a thread works: they are delivered in a turn of their own. */
function messagesRead(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve));
}
