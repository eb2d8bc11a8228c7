/** The root of `f`, negative at `low` and positive at `high`, to the last bit. */
export function bisect(f: (x: number) => number, low: number, high: number): number {
  let [below, above] = [low, high];
  for (;;) {
    const middle = below + (above - below) / 2;
    if (middle <= below || middle >= above) return middle;
    if (f(middle) < 0) below = middle;
    else above = middle;
  }
}
