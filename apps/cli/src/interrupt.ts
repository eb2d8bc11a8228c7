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
