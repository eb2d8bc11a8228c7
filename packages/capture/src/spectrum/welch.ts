import { spectrumOf } from './fourier.ts';

/** Power per Hz at multiples of `stepHz`, one-sided; `averaged` is the number of stretches behind each value. */
export interface PowerDensity {
  readonly stepHz: number;
  readonly perHz: Float64Array;
  readonly averaged: number;
}

/**
 * Power density by averaged periodograms (Welch, IEEE Trans. AU-15, 1967): Hann-weighted stretches of `size` samples (a power of
 * two), each half over the last, the mean of all samples removed. Null where not one stretch fits.
 */
export function powerDensity(samples: Float64Array, rate: number, size: number): PowerDensity | null {
  const stretches = Math.floor((samples.length - size) / (size / 2)) + 1;
  if (stretches < 1) return null;
  const hann = Float64Array.from({ length: size }, (_, n) => 0.5 - 0.5 * Math.cos((2 * Math.PI * n) / size));
  const mean = samples.reduce((sum, x) => sum + x, 0) / samples.length;
  const perHz = new Float64Array(size / 2 + 1);
  const stretch = new Float64Array(size);
  for (let s = 0; s < stretches; s++) {
    for (let n = 0; n < size; n++) stretch[n] = (samples[(s * size) / 2 + n]! - mean) * hann[n]!;
    const spectrum = spectrumOf(stretch, size);
    for (let k = 0; k < perHz.length; k++) perHz[k] = perHz[k]! + spectrum[2 * k]! ** 2 + spectrum[2 * k + 1]! ** 2;
  }
  // Σ hann² = 3/8 · size; both halves of the spectrum stand in one.
  const scale = 2 / (stretches * rate * 0.375 * size);
  for (let k = 0; k < perHz.length; k++) perHz[k] = perHz[k]! * scale;
  return { stepHz: rate / size, perHz, averaged: stretches };
}

/** ∫ density · weight over a band in Hz; the values at its ends count in part. */
export function bandPower(
  { stepHz, perHz }: PowerDensity,
  from: number,
  to: number,
  weight: (hz: number) => number = () => 1,
): number {
  let sum = 0;
  for (let k = 0; k < perHz.length; k++) {
    const share = Math.min(to, (k + 0.5) * stepHz) - Math.max(from, (k - 0.5) * stepHz);
    if (share > 0) sum += perHz[k]! * weight(k * stepHz) * share;
  }
  return sum;
}
