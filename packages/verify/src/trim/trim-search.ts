import type { Composite, Offer } from './composites.ts';
import { largest, trimModel, type Residuals, type TrimModel } from './trim-model.ts';

/** What is put into each place, and how far it is off the aim. */
export interface Found {
  readonly composites: readonly Composite[];
  readonly pieces: number;
  readonly worst: number;
}

export interface TrimSearch {
  readonly model: TrimModel;
  /** The best of each number of pieces, solved in place, those of the fewest pieces first. */
  readonly found: readonly Found[];
  /** By which the model missed those that were solved, at most. */
  readonly miss: number;
}

/** Pairs tried on each side of what a place wants. */
const pairsEachSide = 2;

/**
 * One part or two for each place. Every choice of single parts near the aim is asked of a second-order model; where pairs stand, they are those
 * next to what the single parts around them leave to want. The best by the model, `solvedEach` for each number of pieces, are solved in place.
 * Null where the aim cannot be told around the present values.
 */
export function trimSearch(
  residuals: Residuals,
  start: readonly number[],
  offers: readonly Offer[],
  isStocked: (composites: readonly Composite[]) => boolean,
  { solvedEach, keptEach }: { readonly solvedEach: number; readonly keptEach: number },
): TrimSearch | null {
  const model = trimModel(residuals, start.map(Math.log));
  if (model === null) return null;
  const byPieces = new Map<number, Found[]>();
  for (const paired of subsetsOf(start.length)) {
    for (const composites of choices(model, offers, paired)) {
      if (!isStocked(composites)) continue;
      const pieces = start.length + paired.length;
      const move = composites.map(({ value }, k) => Math.log(value) - model.centre[k]!);
      const known = byPieces.get(pieces) ?? [];
      known.push({ composites, pieces, worst: model.worst(move) });
      byPieces.set(pieces, known);
    }
  }
  let miss = 0;
  const found = [...byPieces.keys()].sort().flatMap((pieces) => {
    const best = byPieces
      .get(pieces)!
      .toSorted((a, b) => a.worst - b.worst)
      .slice(0, solvedEach);
    const solved = best.flatMap((each): readonly Found[] => {
      const left = residuals(each.composites.map(({ value }) => Math.log(value)));
      if (left === null) return [];
      const worst = largest(left);
      miss = Math.max(miss, Math.abs(worst - each.worst));
      return [{ ...each, worst }];
    });
    return solved.toSorted((a, b) => a.worst - b.worst).slice(0, keptEach);
  });
  return { model, found, miss };
}

function subsetsOf(size: number): readonly (readonly number[])[] {
  return Array.from({ length: 2 ** size }, (_, bits) =>
    Array.from({ length: size }, (__, k) => k).filter((k) => (bits >> k) & 1),
  );
}

/** Pairs in the places `paired`, single parts in all others. */
function* choices(
  model: TrimModel,
  offers: readonly Offer[],
  paired: readonly number[],
): Generator<readonly Composite[]> {
  const { centre } = model;
  const singles = offers.map((offer, k) => (paired.includes(k) ? [null] : offer.singles(Math.exp(centre[k]!))));
  for (const chosen of product<Composite | null>(singles)) {
    const move = chosen.map((each, k) => (each === null ? 0 : Math.log(each.value) - centre[k]!));
    const wanted = paired.length === 0 ? move : model.freed(move, paired);
    yield* product(
      chosen.map((each, k) =>
        each === null ? offers[k]!.pairs(Math.exp(centre[k]! + wanted[k]!), pairsEachSide) : [each],
      ),
    );
  }
}

function* product<T>(lists: readonly (readonly T[])[]): Generator<readonly T[]> {
  const [first, ...rest] = lists;
  if (first === undefined) yield [];
  else for (const each of first) for (const others of product(rest)) yield [each, ...others];
}
