/** A line of two texts set side by side; null where one of them has none. */
export interface LinePair {
  readonly mine: string | null;
  readonly theirs: string | null;
}

/**
 * Two texts line by line, equal lines opposite each other: the longest common subsequence of what lies between their
 * common beginning and end (Wagner and Fischer, J. ACM 21, 1974).
 */
export function sideBySide(mine: string, theirs: string): readonly LinePair[] {
  const [a, b] = [mine.split(/\r?\n/), theirs.split(/\r?\n/)];
  const shortest = Math.min(a.length, b.length);
  let head = 0;
  while (head < shortest && a[head] === b[head]) head++;
  let tail = 0;
  while (tail < shortest - head && a[a.length - 1 - tail] === b[b.length - 1 - tail]) tail++;
  const both = (line: string): LinePair => ({ mine: line, theirs: line });
  return [
    ...a.slice(0, head).map(both),
    ...opposed(a.slice(head, a.length - tail), b.slice(head, b.length - tail)),
    ...a.slice(a.length - tail).map(both),
  ];
}

function opposed(a: readonly string[], b: readonly string[]): readonly LinePair[] {
  // common[i][j]: the longest common subsequence of a from i and b from j.
  const common = Array.from({ length: a.length + 1 }, () => new Array<number>(b.length + 1).fill(0));
  const at = (i: number, j: number): number => common[i]?.[j] ?? 0;
  for (let i = a.length - 1; i >= 0; i--) {
    const row = common[i] ?? [];
    for (let j = b.length - 1; j >= 0; j--) {
      row[j] = a[i] === b[j] ? at(i + 1, j + 1) + 1 : Math.max(at(i + 1, j), at(i, j + 1));
    }
  }
  const pairs: LinePair[] = [];
  let [i, j] = [0, 0];
  while (i < a.length || j < b.length) {
    const [mine, theirs] = [a[i] ?? null, b[j] ?? null];
    if (mine !== null && mine === theirs) {
      pairs.push({ mine, theirs });
      i++;
      j++;
    } else if (theirs === null || (mine !== null && at(i + 1, j) >= at(i, j + 1))) {
      pairs.push({ mine, theirs: null });
      i++;
    } else {
      pairs.push({ mine: null, theirs });
      j++;
    }
  }
  return pairs;
}
