/** Work that takes long, in steps: between two of them its caller may do something else, or drop it. Yields the share done, up to 1. */
export type Steps<T> = Generator<number, T>;

/** All steps in one go. */
export function atOnce<T>(steps: Steps<T>): T {
  for (;;) {
    const { done, value } = steps.next();
    if (done === true) return value;
  }
}

/** Steps that are a part of longer work, which they bring from one share to another. */
export function* within<T>(from: number, to: number, steps: Steps<T>): Steps<T> {
  for (;;) {
    const { done, value } = steps.next();
    if (done === true) return value;
    yield from + (to - from) * value;
  }
}
