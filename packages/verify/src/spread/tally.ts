/** What one run of boards gives: a row of numbers for each board, NaN throughout where it has no bias. Fit to be sent between threads. */
export interface Tally {
  /** Number of the first board. */
  readonly from: number;
  readonly boards: number;
  /** boards × `size`. */
  readonly rows: Float32Array;
  readonly size: number;
  /** Frequencies that were solved anew with pivoting. */
  readonly resolved: number;
}

/** All boards that have been drawn, in the order of their numbers, whatever the order in which their tallies came. */
export interface Sample {
  readonly boards: number;
  readonly noBias: number;
  readonly resolved: number;
  /** Numbers of the boards that have a bias, ascending. */
  readonly numbers: Uint32Array;
  /** One place of the row for each of `numbers`. */
  column(place: number): Float32Array;
}

export function gather(tallies: readonly Tally[]): Sample {
  const inOrder = tallies.toSorted((a, b) => a.from - b.from);
  const solved = inOrder.map(({ boards, rows, size }) =>
    Array.from({ length: boards }, (_, n) => n).filter((n) => !Number.isNaN(rows[n * size + size - 1]!)),
  );
  const numbers = Uint32Array.from(inOrder.flatMap(({ from }, t) => solved[t]!.map((n) => from + n)));
  const boards = inOrder.reduce((sum, tally) => sum + tally.boards, 0);
  return {
    boards,
    noBias: boards - numbers.length,
    resolved: inOrder.reduce((sum, { resolved }) => sum + resolved, 0),
    numbers,
    column(place) {
      const column = new Float32Array(numbers.length);
      let at = 0;
      inOrder.forEach(({ rows, size }, t) => {
        for (const n of solved[t]!) column[at++] = rows[n * size + place]!;
      });
      return column;
    },
  };
}
