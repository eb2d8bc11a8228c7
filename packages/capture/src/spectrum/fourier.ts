import FFT from 'fft.js';

/** What of fft.js is used: arrays of re, im pairs, 2·size long; a real transform fills the first half alone. */
interface Transform {
  realTransform(out: Float64Array, samples: Float64Array): void;
  completeSpectrum(spectrum: Float64Array): void;
  inverseTransform(out: Float64Array, spectrum: Float64Array): void;
}

/** Sizes up to this are kept once they are made; of larger ones, whose tables take tens of megabytes, the last alone. */
const largestKept = 2 ** 17;
const kept = new Map<number, Transform>();
let lastLarge: { readonly size: number; readonly transform: Transform } | null = null;

function transformOf(size: number): Transform {
  const known = lastLarge?.size === size ? lastLarge.transform : kept.get(size);
  if (known !== undefined) return known;
  const transform = new FFT(size) as Transform;
  if (size <= largestKept) kept.set(size, transform);
  else lastLarge = { size, transform };
  return transform;
}

/** The smallest power of two that holds so many samples; at least 2. */
export function transformSize(samples: number): number {
  return 2 ** Math.max(1, Math.ceil(Math.log2(samples)));
}

/**
 * The spectrum Σ x[n]·e^(−j2πkn/size) of real samples, zeros after them up to `size` (a power of two): size/2 + 1 pairs re, im.
 */
export function spectrumOf(samples: Float64Array, size: number): Float64Array {
  if (samples.length > size) throw new RangeError(`${samples.length} samples do not go into a transform of ${size}`);
  const padded = new Float64Array(size);
  padded.set(samples);
  const out = new Float64Array(2 * size);
  transformOf(size).realTransform(out, padded);
  return out.slice(0, size + 2);
}

/** The real samples of a spectrum as `spectrumOf` gives it. */
export function samplesOf(spectrum: Float64Array): Float64Array {
  const size = spectrum.length - 2;
  const full = new Float64Array(2 * size);
  full.set(spectrum);
  const transform = transformOf(size);
  transform.completeSpectrum(full);
  const out = new Float64Array(2 * size);
  transform.inverseTransform(out, full);
  return Float64Array.from({ length: size }, (_, n) => out[2 * n]!);
}
