/** Designators in the order of letters first met, numbers ascending, three or more in a row as a run: `R101–R106, R109, D103`. */
export function refRuns(refs: readonly string[]): string {
  const numbers = new Map<string, number[]>();
  const others: string[] = [];
  for (const ref of refs) {
    const [, letters, digits] = /^([A-Z]+)([1-9]\d{0,8})$/.exec(ref) ?? [];
    if (letters === undefined) others.push(ref);
    else numbers.set(letters, [...(numbers.get(letters) ?? []), Number(digits)]);
  }
  return [...[...numbers].flatMap(([letters, own]) => runs(letters, own)), ...others].join(', ');
}

function runs(letters: string, numbers: readonly number[]): readonly string[] {
  const groups: number[][] = [];
  for (const number of [...new Set(numbers)].toSorted((a, b) => a - b)) {
    const last = groups.at(-1);
    if (last?.at(-1) === number - 1) last.push(number);
    else groups.push([number]);
  }
  return groups.flatMap((group) =>
    group.length < 3
      ? group.map((number) => `${letters}${number}`)
      : [`${letters}${group[0]}–${letters}${group.at(-1)}`],
  );
}
