/**
 * Probability of a χ² at least so large with so many degrees of freedom, by the cube-root normal approximation (Wilson & Hilferty, Proc. Natl. Acad. Sci.
 * 17, 1931): good to a percent of itself in the tail that is asked for here.
 */
export function chiSquareTail(square: number, degrees: number): number {
  if (degrees <= 0) return square > 0 ? 0 : 1;
  const spread = 2 / (9 * degrees);
  return normalTail(((square / degrees) ** (1 / 3) - (1 - spread)) / Math.sqrt(spread));
}

/** Abramowitz & Stegun, Handbook of Mathematical Functions, 26.2.17: absolute error below 7.5e-8. */
function normalTail(z: number): number {
  if (z < 0) return 1 - normalTail(-z);
  const t = 1 / (1 + 0.2316419 * z);
  const sum = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * sum;
}
