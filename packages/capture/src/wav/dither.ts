/**
 * Triangular dither of ±1 step, the sum of two even ones: rounding then adds noise that does not depend on the signal instead of harmonics
 * (S. P. Lipshitz, R. A. Wannamaker, J. Vanderkooy, "Quantization and dither", JAES 40(5), 1992). The same seed and channel tremble alike.
 */
export function ditherOf(seed: number, channel: number): () => number {
  // Marsaglia's xorshift of 32 bits (Journal of Statistical Software 8(14), 2003); its state may not be 0.
  let state = (Math.imul(seed + 1, 0x9e3779b1) ^ Math.imul(channel + 1, 0x85ebca6b)) | 1;
  const even = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state / 2 ** 32;
  };
  return () => even() + even();
}
