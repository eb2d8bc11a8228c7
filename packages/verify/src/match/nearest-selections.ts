/** Pieces chosen for one channel, by their index, and the numbers they are compared by. */
export interface Selection {
  readonly pieces: readonly number[];
  /** Weighted: the furthest apart of two selections' numbers is how far they differ. */
  readonly numbers: Float64Array;
}

/** A selection for each channel without a piece in common. */
export interface NearPair {
  readonly first: Selection;
  readonly last: Selection;
  /** Largest of the differences between their numbers. */
  readonly apart: number;
}

/**
 * The pairs that lie nearest, nearest first: all that there are, or `most`. Exact: sorted along the number in which they lie furthest apart,
 * only those within reach of the best so far are compared.
 */
export function nearestSelections(
  firsts: readonly Selection[],
  lasts: readonly Selection[],
  most: number,
): readonly NearPair[] {
  const along = widestNumber(lasts);
  const sorted = lasts.toSorted((a, b) => a.numbers[along]! - b.numbers[along]!);
  const marks = Float64Array.from(sorted, ({ numbers }) => numbers[along]!);
  const best: NearPair[] = [];
  let reach = Infinity;

  function compare(first: Selection, last: Selection): void {
    if (first.pieces.some((piece) => last.pieces.includes(piece))) return;
    const apart = distance(first.numbers, last.numbers, reach);
    if (!(apart < reach)) return;
    best.splice(placeFor(best, apart), 0, { first, last, apart });
    if (best.length > most) best.pop();
    if (best.length === most) reach = best.at(-1)?.apart ?? Infinity;
  }

  for (const first of firsts) {
    const mark = first.numbers[along]!;
    let [below, above] = [firstAtLeast(marks, mark) - 1, firstAtLeast(marks, mark)];
    for (;;) {
      const [down, up] = [below < 0 ? Infinity : mark - marks[below]!, (marks[above] ?? Infinity) - mark];
      if (Math.min(down, up) >= reach || (down === Infinity && up === Infinity)) break;
      compare(first, sorted[down <= up ? below : above]!);
      if (down <= up) below -= 1;
      else above += 1;
    }
  }
  return best;
}

function widestNumber(selections: readonly Selection[]): number {
  const size = selections[0]?.numbers.length ?? 0;
  let [widest, at] = [-1, 0];
  for (let k = 0; k < size; k++) {
    let [low, high] = [Infinity, -Infinity];
    for (const { numbers } of selections) {
      low = Math.min(low, numbers[k]!);
      high = Math.max(high, numbers[k]!);
    }
    if (high - low > widest) [widest, at] = [high - low, k];
  }
  return at;
}

/** Given up, with what was found so far, where it reaches `enough`. */
function distance(a: Float64Array, b: Float64Array, enough: number): number {
  let furthest = 0;
  for (let k = 0; k < a.length; k++) {
    const apart = Math.abs(a[k]! - b[k]!);
    if (apart > furthest) furthest = apart;
    if (furthest >= enough) break;
  }
  return furthest;
}

function placeFor(sorted: readonly NearPair[], apart: number): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]!.apart <= apart) low = middle + 1;
    else high = middle;
  }
  return low;
}

function firstAtLeast(marks: Float64Array, value: number): number {
  let [low, high] = [0, marks.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (marks[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
