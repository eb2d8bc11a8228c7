/** Runs work piece by piece in the order in which it came, each after the one before has ended, well or not. */
export function takingTurns(): <T>(work: () => Promise<T>) => Promise<T> {
  let before: Promise<unknown> = Promise.resolve();
  return (work) => {
    const done = before.then(work);
    before = done.catch(() => undefined);
    return done;
  };
}
