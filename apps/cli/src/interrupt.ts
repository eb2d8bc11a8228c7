/** Runs long work that the first Ctrl-C asks to end early; a second one ends the process as usual. */
export async function untilInterrupted<T>(work: (signal: AbortSignal) => Promise<T>): Promise<T> {
  const ending = new AbortController();
  const interrupt = (): void => {
    ending.abort();
  };
  process.once('SIGINT', interrupt);
  try {
    return await work(ending.signal);
  } finally {
    process.off('SIGINT', interrupt);
  }
}

/** Resolves when the process is asked to end; asked again, it ends as usual. */
export async function untilStopped(): Promise<void> {
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
  await new Promise<void>((stop) => {
    const stopped = (): void => {
      for (const signal of signals) process.off(signal, stopped);
      stop();
    };
    for (const signal of signals) process.on(signal, stopped);
  });
}
