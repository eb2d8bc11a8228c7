/** Frequencies (Hz) and weights (Hz) with ∫ S(f) df over a band ≈ Σ weights[n] · S(frequencies[n]). */
export interface BandQuadrature {
  readonly frequencies: Float64Array;
  readonly weights: Float64Array;
}

/** Nodes and weights of Gauss–Legendre quadrature with eight points on −1 … 1, the positive half (Abramowitz & Stegun, table 25.4; re-derived). */
const points = [
  [0.1834346424956498, 0.362683783378362],
  [0.525532409916329, 0.3137066458778873],
  [0.7966664774136267, 0.2223810344533745],
  [0.9602898564975363, 0.1012285362903763],
] as const;

const panelsPerDecade = 8;

/**
 * Gauss–Legendre panels over log frequency from `from` to `to` Hz, eight to the decade with eight points each: an equaliser's curves are
 * integrated to rounding, a resonance of Q 3 in the band to 1e-7 and one of Q 5 to 5e-5 of the whole. Throws a RangeError unless 0 < from < to.
 */
export function bandQuadrature(from: number, to: number): BandQuadrature {
  if (!(from > 0 && to > from && to < Infinity)) throw new RangeError(`no band lies from ${from} to ${to} Hz`);
  const span = Math.log(to / from);
  const panels = Math.ceil((span / Math.LN10) * panelsPerDecade);
  const half = span / panels / 2;
  const nodes = points
    .flatMap(([at, weight]) => [[-at, weight] as const, [at, weight] as const])
    .sort(([a], [b]) => a - b);
  const frequencies = new Float64Array(panels * nodes.length);
  const weights = new Float64Array(frequencies.length);
  for (let panel = 0; panel < panels; panel++) {
    nodes.forEach(([at, weight], k) => {
      const n = panel * nodes.length + k;
      const hz = from * Math.exp(half * (2 * panel + 1 + at));
      frequencies[n] = hz;
      weights[n] = weight * half * hz;
    });
  }
  return { frequencies, weights };
}
