/** The known name most like `written`, or null when none is near: at most a third of its letters may differ. */
export function nearest(written: string, known: Iterable<string>): string | null {
  let best: string | null = null;
  let bestDistance = Math.max(1, Math.floor(written.length / 3)) + 1;
  // A name of hundreds of letters is no slip of the pen, and the distance costs the product of both lengths.
  if (written.length > 60) return null;
  for (const name of known) {
    const distance = editDistance(written.toLowerCase(), name.toLowerCase());
    if (distance < bestDistance) {
      best = name;
      bestDistance = distance;
    }
  }
  return best;
}

/** Insertions, deletions, replacements and swaps of neighbours between two words (Damerau, CACM 7(3), 1964). */
function editDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let least = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        least = Math.min(least, (beforeLast[j - 2] ?? 0) + 1);
      row.push(least);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length] ?? 0;
}

/** How to end a message about an unknown name: `did you mean X`, or which names are known. */
export function suggestion(written: string, known: Iterable<string>): string {
  const names = [...known];
  const name = nearest(written, names);
  if (name !== null) return `did you mean ${name}?`;
  return names.length === 0
    ? 'there is none'
    : `known: ${names.slice(0, 12).join(', ')}${names.length > 12 ? ' …' : ''}`;
}
