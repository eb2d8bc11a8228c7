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
  let [here, there]: [string[], string[]] = [[], []];
  const close = (): void => {
    // What was replaced stands opposite what replaced it.
    for (let n = 0; n < Math.max(here.length, there.length); n++) {
      pairs.push({ mine: here[n] ?? null, theirs: there[n] ?? null });
    }
    [here, there] = [[], []];
  };
  let [i, j] = [0, 0];
  while (i < a.length || j < b.length) {
    const [mine, theirs] = [a[i], b[j]];
    if (mine !== undefined && mine === theirs) {
      close();
      pairs.push({ mine, theirs });
      i++;
      j++;
    } else if (mine !== undefined && (theirs === undefined || at(i + 1, j) >= at(i, j + 1))) {
      here.push(mine);
      i++;
    } else if (theirs !== undefined) {
      there.push(theirs);
      j++;
    }
  }
  close();
  return pairs;
}

/** Lines that differ with their neighbours; of longer stretches that are equal only how many lines they have. */
export function withoutEqualStretches(pairs: readonly LinePair[], around: number = 2): readonly (LinePair | number)[] {
  const differs = pairs.map(({ mine, theirs }) => mine !== theirs);
  const isNear = (n: number): boolean => differs.slice(Math.max(0, n - around), n + around + 1).includes(true);
  const shown: (LinePair | number)[] = [];
  pairs.forEach((pair, n) => {
    const last = shown.at(-1);
    if (isNear(n)) shown.push(pair);
    else if (typeof last === 'number') shown[shown.length - 1] = last + 1;
    else shown.push(1);
  });
  return shown;
}
