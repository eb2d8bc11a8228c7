import type { LeftIn, ReworkSheet, SheetRow } from '@curvewright/verify';

/** Positions that read alike, as the sheet prints them. */
export interface PartFact {
  readonly refs: readonly string[];
  readonly action: SheetRow['action'];
  readonly drawn: string | null;
  readonly pulled: string | null;
  readonly fitted: string;
  readonly why: string | null;
}

export interface LeftFact {
  readonly refs: readonly string[];
  readonly what: string;
  readonly pulled: string | null;
  readonly why: string | null;
}

/** What was worked on; the halves of a pair that are alike in everything share a row. */
export function partFacts({ rows }: ReworkSheet): readonly PartFact[] {
  return alike(rows, ({ ref, action, drawn, pulled, fitted, why }) => [ref, { action, drawn, pulled, fitted, why }]);
}

/** What was looked at and stays. */
export function leftFacts({ left }: ReworkSheet): readonly LeftFact[] {
  return alike(left, ({ ref, what, pulled, why }: LeftIn) => [ref, { what, pulled, why }]);
}

function alike<From, To extends object>(
  all: readonly From[],
  read: (each: From) => readonly [ref: string, told: To],
): readonly (To & { readonly refs: readonly string[] })[] {
  const groups = new Map<string, To & { readonly refs: string[] }>();
  for (const each of all) {
    const [ref, told] = read(each);
    const key = JSON.stringify(told);
    const known = groups.get(key);
    if (known === undefined) groups.set(key, { refs: [ref], ...told });
    else known.refs.push(ref);
  }
  return [...groups.values()];
}
