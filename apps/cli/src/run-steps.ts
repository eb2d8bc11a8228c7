import { setImmediate } from 'node:timers/promises';
import type { Steps } from '@curvewright/verify';

/** Runs steps, telling their share as it grows, and lets Ctrl-C and the terminal have their turn between them; null where the signal came first. */
export async function runSteps<T>(
  steps: Steps<T>,
  signal: AbortSignal,
  progress: (share: number) => void,
): Promise<T | null> {
  for (;;) {
    await setImmediate();
    if (signal.aborted) return null;
    const { done, value } = steps.next();
    if (done === true) return value;
    progress(value);
  }
}
