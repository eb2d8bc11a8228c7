import type { StockPart } from '@curvewright/board';
import { preferredAbove, preferredBelow, type Series } from '@curvewright/quantity';

/** A part that may be taken: a preferred value to order, or one that lies in the drawer. */
export interface Stocked {
  /** Ω or F. */
  readonly value: number;
  /** The drawer's code; null for a preferred value. */
  readonly stock: string | null;
  /** Pieces that there are. */
  readonly quantity: number;
}

/** One part, or two that make up one value. */
export interface Composite {
  readonly how: 'single' | 'parallel' | 'series';
  readonly parts: readonly Stocked[];
  /** Ω or F of them together. */
  readonly value: number;
}

/** How far apart two values of a pair may lie: beyond it the smaller part of the two does less than its fellow's own tolerance. */
export const furthestApart = 30;

/** Single values looked at on each side of a wanted one. */
const singlesEachSide = 4;

/** What can stand in a place whose wanted value moves within a span. */
export interface Offer {
  /** The single parts nearest to a value, some on each side. */
  singles(value: number): readonly Composite[];
  /** The pairs next to a value, so many on each side. */
  pairs(value: number, eachSide: number): readonly Composite[];
}

/** Of values from `least` to `most`, Ω of resistors or F of capacitors. */
export function offerOf(
  kind: 'resistor' | 'capacitor',
  values: readonly Stocked[],
  least: number,
  most: number,
): Offer {
  const singles = inOrder(
    values
      .filter(({ value }) => value >= least && value <= most)
      .map((part): Composite => ({ how: 'single', parts: [part], value: part.value })),
  );
  const pairs = inOrder(
    values
      .flatMap((a, n) => values.slice(n).map((b) => [a, b] as const))
      .filter(([a, b]) => Math.max(a.value, b.value) <= furthestApart * Math.min(a.value, b.value))
      .filter(([a, b]) => a.stock === null || a.stock !== b.stock || a.quantity >= 2)
      .flatMap(([a, b]) => (['parallel', 'series'] as const).map((how) => together(kind, how, a, b)))
      .filter(({ value }) => value >= least && value <= most),
  );
  return {
    singles: (value) => around(singles, value, singlesEachSide),
    pairs: (value, eachSide) => around(pairs, value, eachSide),
  };
}

function together(kind: 'resistor' | 'capacitor', how: 'parallel' | 'series', a: Stocked, b: Stocked): Composite {
  const adds = (how === 'series') === (kind === 'resistor');
  const value = adds ? a.value + b.value : (a.value * b.value) / (a.value + b.value);
  return { how, parts: a.value >= b.value ? [a, b] : [b, a], value };
}

function inOrder(composites: readonly Composite[]): readonly Composite[] {
  return composites.toSorted((a, b) => a.value - b.value);
}

function around(sorted: readonly Composite[], value: number, eachSide: number): readonly Composite[] {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]!.value < value) low = middle + 1;
    else high = middle;
  }
  return sorted.slice(Math.max(0, low - eachSide), low + eachSide);
}

/** Ω and F that resistors and capacitors of an equaliser are sold in: common practice, no source. */
const sold = { resistor: [1, 10e6], capacitor: [10e-12, 100e-6] } as const;

/** Every preferred value from `least` to `most` that is sold: as many of each as are ordered. */
export function preferredParts(
  kind: 'resistor' | 'capacitor',
  series: Series,
  least: number,
  most: number,
): readonly Stocked[] {
  const parts: Stocked[] = [];
  const [lowest, highest] = sold[kind];
  const end = preferredBelow(Math.min(most, highest), series);
  for (
    let value = preferredAbove(Math.max(least, lowest), series);
    value <= end;
    value = preferredAbove(value * beyond, series)
  )
    parts.push({ value, stock: null, quantity: Infinity });
  return parts;
}

/** Off a value of the series, by less than its next one lies. */
const beyond = 1.001;

/** What the drawer has of a kind. A part without a count is taken to be there. */
export function drawerParts(stock: readonly StockPart[], kind: 'resistor' | 'capacitor'): readonly Stocked[] {
  return stock.flatMap((part) =>
    part.kind === kind && part.value !== undefined && part.value > 0 && part.quantity !== 0
      ? [{ value: part.value, stock: part.stock, quantity: part.quantity ?? Infinity }]
      : [],
  );
}
