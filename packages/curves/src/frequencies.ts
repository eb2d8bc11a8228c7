/**
 * Frequencies in Hz from `from` to `to` at equal ratios, both ends included exactly, at least `perDecade` to the
 * decade. One frequency where both ends are the same. Throws a RangeError unless 0 < from ≤ to and perDecade > 0.
 */
export function logFrequencies(from: number, to: number, perDecade: number): Float64Array {
  if (!(from > 0 && to >= from && to < Infinity && perDecade > 0 && perDecade < Infinity)) {
    throw new RangeError(`no frequencies lie from ${from} to ${to} Hz at ${perDecade} to the decade`);
  }
  const decades = Math.log10(to / from);
  // A whole number of steps may come out of the logarithm a rounding error too large.
  const steps = Math.max(to > from ? 1 : 0, Math.ceil(decades * perDecade - 1e-9));
  return Float64Array.from({ length: steps + 1 }, (_, n) =>
    n === 0 ? from : n === steps ? to : from * 10 ** ((decades * n) / steps),
  );
}
