export type Series = 'E3' | 'E6' | 'E12' | 'E24' | 'E48' | 'E96' | 'E192';

/** IEC 60063. Up to E24 the series keep the historic roundings (27, 33, 47 … are not those of the formula). */
const E24: readonly number[] = [
  10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91,
];

/** From E48 they are round(100·10^(n/192)); 920 in place of 919 is the standard's one exception. */
const E192: readonly number[] = Array.from({ length: 192 }, (_, n) => Math.round(100 * 10 ** (n / 192))).map((value) =>
  value === 919 ? 920 : value,
);

/** One decade as the standard lists it: 10 to 91 for E3 to E24, 100 to 988 for E48 to E192, ascending. */
const decades: Readonly<Record<Series, readonly number[]>> = {
  E3: every(8, E24),
  E6: every(4, E24),
  E12: every(2, E24),
  E24,
  E48: every(4, E192),
  E96: every(2, E192),
  E192,
};

function every(step: number, values: readonly number[]): readonly number[] {
  return values.filter((_, n) => n % step === 0);
}

/** One decade of a series as IEC 60063 lists it: 10, 22, 47 for E3; 100, 105, 110 … for E48. */
export function preferredValues(series: Series): readonly number[] {
  return decades[series];
}

/** The smallest preferred value at or above a positive value (any unit); a value of the series is its own answer. */
export function preferredAbove(value: number, series: Series): number {
  return neighbours(value, series).above;
}

/** The largest preferred value at or below a positive value; a value of the series is its own answer. */
export function preferredBelow(value: number, series: Series): number {
  return neighbours(value, series).below;
}

/** The preferred value with the smallest ratio to a positive value; the lower one of two equally near. */
export function nearestPreferred(value: number, series: Series): number {
  const { below, above } = neighbours(value, series);
  return value / below <= above / value ? below : above;
}

/** A computed 4.7000000000000002e-6 is still 4.7e-6: some hundred times the rounding error of a short computation. */
const sameRatio = 1e-13;

function neighbours(value: number, series: Series): { readonly below: number; readonly above: number } {
  if (!(value > 0 && value < Infinity)) throw new RangeError(`preferred values have no neighbour for ${value}`);
  const values = decades[series];
  const digits = values[0] === 10 ? 1 : 2;
  const decade = Math.floor(Math.log10(value));
  // Written as decimal text, so that 47 in the decade of 10 µF is exactly 4.7e-5. One decade either side covers a
  // logarithm that rounded across a power of ten.
  const candidates = [decade - 1, decade, decade + 1].flatMap((power) =>
    values.map((step) => Number(`${step}e${power - digits}`)),
  );
  const same = candidates.find((candidate) => Math.abs(candidate / value - 1) <= sameRatio);
  const below = same ?? candidates.findLast((candidate) => candidate <= value);
  const above = same ?? candidates.find((candidate) => candidate >= value);
  if (below === undefined || above === undefined) throw new RangeError(`no preferred value lies near ${value}`);
  return { below, above };
}
