import { once } from 'node:events';
import { availableParallelism } from 'node:os';
import { setImmediate } from 'node:timers/promises';
import type { Worker } from 'node:worker_threads';
import type { SpreadRunner, Tally } from '@curvewright/verify';
import { startThread } from './thread.ts';

/** A run of boards by their numbers. */
export interface Chunk {
  readonly from: number;
  readonly boards: number;
}

export interface BoardsRun {
  readonly boards: number;
  /** Threads, this one among them. */
  readonly workers: number;
  /** Aborted: no further chunk is begun, those in hand are finished. */
  readonly signal: AbortSignal;
  readonly progress: (done: number) => void;
}

/** Boards in a chunk: some tens of milliseconds, so that an interrupt is answered at once. */
const chunkSize = 100;

/** Boards that are worth a thread of their own, which takes its time to start. */
const worthAWorker = 1000;

export function usualWorkers(boards: number): number {
  return Math.max(1, Math.min(availableParallelism(), Math.floor(boards / worthAWorker)));
}

/** Draws and solves boards 0 to `boards` − 1, at least one chunk of them; the tallies come in any order. */
export async function runBoards(
  runner: SpreadRunner,
  { boards, workers, signal, progress }: BoardsRun,
): Promise<readonly Tally[]> {
  const tallies: Tally[] = [];
  let begun = 0;
  let done = 0;
  const next = (): Chunk | null => {
    if (begun >= boards || (begun > 0 && signal.aborted)) return null;
    const chunk = { from: begun, boards: Math.min(chunkSize, boards - begun) };
    begun += chunk.boards;
    return chunk;
  };
  const take = (tally: Tally): void => {
    tallies.push(tally);
    done += tally.boards;
    progress(done);
  };
  const here = async (): Promise<void> => {
    for (let chunk = next(); chunk !== null; chunk = next()) {
      take(runner.run(chunk.from, chunk.boards));
      // An interrupt and the other threads are heard between two chunks only.
      await setImmediate();
    }
  };
  const there = async (thread: Worker): Promise<void> => {
    for (let chunk = next(); chunk !== null; chunk = next()) {
      thread.postMessage(chunk);
      const [tally] = (await once(thread, 'message')) as [Tally];
      take(tally);
    }
  };
  const threads = Array.from({ length: workers - 1 }, () => startThread('spread-worker', runner.plan));
  try {
    await Promise.all([...threads.map(there), here()]);
  } finally {
    await Promise.all(threads.map((thread) => thread.terminate()));
  }
  return tallies;
}
