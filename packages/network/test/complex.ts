/** Real and imaginary part. */
export type Complex = readonly [number, number];

/** j·im. */
export const imaginary = (im: number): Complex => [0, im];
export const add = ([a, b]: Complex, [c, d]: Complex): Complex => [a + c, b + d];
export const multiply = ([a, b]: Complex, [c, d]: Complex): Complex => [a * c - b * d, a * d + b * c];
export const scale = (factor: number, [a, b]: Complex): Complex => [factor * a, factor * b];
export const inverse = ([a, b]: Complex): Complex => [a / (a * a + b * b), -b / (a * a + b * b)];
export const modulus = ([a, b]: Complex): number => Math.hypot(a, b);
export const decibels = (z: Complex): number => 20 * Math.log10(modulus(z));
