/** Weights of bins first … first + weights.length − 1 that give the value of a smooth curve at one frequency. */
export interface LocalFit {
  readonly first: number;
  readonly weights: Float64Array;
}

/**
 * The value at `hz` of the parabola through the values at bins k·stepHz within `octaves` either way, least squares under tricube weights
 * (Cleveland, J. Am. Stat. Assoc. 74, 1979). It leaves parabolas as they are, also where the band ends on one side, and makes the noise of
 * each bin as much smaller as there are bins. Null where fewer than five bins lie inside `from` … `to` Hz.
 */
export function localFit(hz: number, stepHz: number, octaves: number, from: number, to: number): LocalFit | null {
  const reach = Math.max(hz * (2 ** octaves - 1), 4 * stepHz);
  const first = Math.ceil(Math.max(from, hz - reach) / stepHz);
  const last = Math.floor(Math.min(to, hz + reach) / stepHz);
  if (last - first < 4 || hz < from || hz > to) return null;
  const at = Float64Array.from({ length: last - first + 1 }, (_, n) => ((first + n) * stepHz - hz) / reach);
  const tricube = at.map((u) => (1 - Math.min(1, Math.abs(u)) ** 3) ** 3);
  const moment = (power: number): number => at.reduce((sum, u, n) => sum + tricube[n]! * u ** power, 0);
  const [m0, m1, m2, m3, m4] = [moment(0), moment(1), moment(2), moment(3), moment(4)];
  // First row of the inverse of the 3 × 3 moment matrix: the parabola's value at u = 0.
  const [c0, c1, c2] = [m2 * m4 - m3 * m3, m2 * m3 - m1 * m4, m1 * m3 - m2 * m2];
  const determinant = m0 * c0 + m1 * c1 + m2 * c2;
  return { first, weights: at.map((u, n) => (tricube[n]! * (c0 + c1 * u + c2 * u * u)) / determinant) };
}

/** The fitted value re, im of a spectrum (re, im pairs). */
export function fitted({ first, weights }: LocalFit, spectrum: Float64Array): readonly [number, number] {
  let [re, im] = [0, 0];
  for (let n = 0; n < weights.length; n++) {
    re += weights[n]! * spectrum[2 * (first + n)]!;
    im += weights[n]! * spectrum[2 * (first + n) + 1]!;
  }
  return [re, im];
}
