/** The R10 series of ISO 3, a decade of nominal third-octave frequencies (ISO 266; common practice). */
const decade = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8] as const;

/** Nominal third-octave frequencies in Hz from `from` to `to`, both included where they are nominal: 20, 25, 31.5, 40 … */
export function nominalFrequencies(from: number, to: number): readonly number[] {
  if (!(from > 0 && to >= from && to < Infinity)) throw new RangeError(`no frequencies lie from ${from} to ${to} Hz`);
  const [first, last] = [Math.floor(Math.log10(from)), Math.floor(Math.log10(to))];
  return Array.from({ length: last - first + 1 }, (_, n) => first + n)
    .flatMap((exponent) => decade.map((number) => Number(`${number}e${exponent}`)))
    .filter((hz) => hz >= from && hz <= to);
}
