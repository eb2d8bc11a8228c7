import type { Catalogue } from '../../../packages/verify/src/suspect/catalogue.ts';
import { fittedPrediction } from '../../../packages/verify/src/suspect/fitted.ts';
import { sharesOf, type Beliefs, type Shares } from '../../../packages/verify/src/suspect/posterior.ts';
import type { Weigher } from '../../../packages/verify/src/suspect/weigh.ts';

/** Where the true part came out; `group`: tied with more than two others. */
export type Place = 'first' | 'in three' | 'tied' | 'group' | 'miss' | 'nothing wrong';

/** Members of a tie with less than this part of its likeliest are not counted. */
const counted = 0.05;
const mostTied = 3;

/** Shares by designator, the largest first; one that is named by two faults has both. */
export function partShares({ entries }: Catalogue, shares: Shares): readonly (readonly [string, number])[] {
  const parts = new Map<string, number>();
  entries.forEach(({ hypothesis }, n) => {
    for (const ref of hypothesis.refs) parts.set(ref, (parts.get(ref) ?? 0) + shares.entries[n]!);
  });
  return [...parts].sort((a, b) => b[1] - a[1]);
}

/** The designators that the readings cannot tell from the likeliest fault of this part, with it. */
export function tiedWith(weigher: Weigher, { entries }: Beliefs, shares: Shares, ref: string): readonly string[] {
  const order = entries.map((_, n) => n).sort((a, b) => shares.entries[b]! - shares.entries[a]!);
  const own = order.find((n) => entries[n]!.entry.hypothesis.refs.includes(ref));
  if (own === undefined) return [];
  const fitOf = (n: number) => fittedPrediction(entries[n]!.entry, entries[n]!.best);
  const mine = fitOf(own);
  const group = order
    .filter((n) => shares.entries[n]! >= counted * Math.max(shares.entries[own]!, 1e-3))
    .filter((n) => n === own || weigher.apart(mine, fitOf(n)) < 1);
  const least = counted * Math.max(...group.map((n) => shares.entries[n]!));
  return [
    ...new Set(
      group.filter((n) => n === own || shares.entries[n]! >= least).flatMap((n) => entries[n]!.entry.hypothesis.refs),
    ),
  ];
}

/** A tie of more than three is a miss wherever the true part stands in it. */
export function placeOf(
  catalogue: Catalogue,
  weigher: Weigher,
  beliefs: Beliefs,
  ref: string,
): { readonly place: Place; readonly group: readonly string[] } {
  const shares = sharesOf(beliefs);
  const group = tiedWith(weigher, beliefs, shares, ref);
  if (shares.healthy > 0.5) return { place: 'nothing wrong', group };
  const ranked = partShares(catalogue, shares);
  const rank = ranked.findIndex(([part]) => part === ref);
  if (group.length > mostTied) return { place: 'group', group };
  if (rank === 0) return { place: 'first', group };
  if (rank > 0 && rank < 3) return { place: 'in three', group };
  return { place: group.includes(ranked[0]![0]) ? 'tied' : 'miss', group };
}
