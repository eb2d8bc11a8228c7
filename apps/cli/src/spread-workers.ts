import { once } from 'node:events';
import { availableParallelism } from 'node:os';
import { setImmediate } from 'node:timers/promises';
import type { Worker } from 'node:worker_threads';
import type { SpreadPlan, SpreadRunner, Tally } from '@curvewright/verify';
import { startThread } from './thread.ts';

/** A run of boards by their numbers. */
export interface Chunk {
  readonly from: number;
  readonly boards: number;
}

/** A thread that solves boards of one plan beside this one. */
export interface BoardThread {
  readonly thread: Worker;
  /** Resolves once it has solved the plan and takes chunks. */
  readonly ready: Promise<unknown>;
}

/** Starts `count` threads; each takes a while before it is ready. */
export function startBoardThreads(plan: SpreadPlan, count: number): readonly BoardThread[] {
  return Array.from({ length: count }, () => {
    const thread = startThread('spread-worker', plan);
    return { thread, ready: once(thread, 'message') };
  });
}

export async function endBoardThreads(threads: readonly BoardThread[]): Promise<void> {
  await Promise.all(threads.map(({ thread }) => thread.terminate()));
}

export interface BoardsRun {
  readonly boards: number;
  /** Those that help this thread; one that is not ready before all is done does not take part. */
  readonly threads: readonly BoardThread[];
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
  { boards, threads, signal, progress }: BoardsRun,
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
  const there = async ({ thread, ready }: BoardThread, ended: Promise<void>): Promise<void> => {
    await Promise.race([ready, ended]);
    for (let chunk = next(); chunk !== null; chunk = next()) {
      thread.postMessage(chunk);
      const [tally] = (await once(thread, 'message')) as [Tally];
      take(tally);
    }
  };
  const ended = here();
  await Promise.all([ended, ...threads.map((each) => there(each, ended))]);
  return tallies;
}
