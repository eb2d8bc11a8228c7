/**
 * One period of two real signals at once, as samples and as harmonics. A signal is x(t) = X₀ + Σ Re(Xₖ e^{jkωt}), so Xₖ is an amplitude;
 * harmonics lie as re, im pairs for k = 0 … samples/2 − 1. All storage is made once.
 */
export interface Fourier {
  /** Samples of a period, a power of two. */
  readonly samples: number;
  /** k = 0 up to this number less one. */
  readonly harmonics: number;
  /** First signal in the even, second in the odd places, 2 × samples numbers: what `analyse` reads and `synthesise` writes. */
  readonly signals: Float64Array;
  /** Writes the harmonics of both signals at `at` of `first` and `second`. Destroys `signals`. */
  analyse(first: Float64Array, second: Float64Array, at: number): void;
  /** Fills `signals` from the harmonics at `atFirst` of `first` and at `atSecond` of `second`. */
  synthesise(first: Float64Array, atFirst: number, second: Float64Array, atSecond: number): void;
}

/** Radix two, in place (Cooley & Tukey, Math. Comp. 19, 1965); two real signals ride in one complex transform (Brigham, The Fast Fourier Transform, 10-10). */
export function fourier(samples: number): Fourier {
  if (samples < 4 || (samples & (samples - 1)) !== 0) throw new RangeError(`${samples} is no power of two from 4 on`);
  const harmonics = samples / 2;
  const signals = new Float64Array(2 * samples);
  const turns = new Float64Array(samples);
  for (let k = 0; k < harmonics; k++) {
    turns[2 * k] = Math.cos((2 * Math.PI * k) / samples);
    turns[2 * k + 1] = Math.sin((2 * Math.PI * k) / samples);
  }
  const partner = new Int32Array(samples);
  for (let n = 1; n < samples; n++) partner[n] = (partner[n >> 1]! >> 1) | (n & 1 ? harmonics : 0);

  function exchange(a: number, b: number): void {
    const re = signals[2 * a]!;
    const im = signals[2 * a + 1]!;
    signals[2 * a] = signals[2 * b]!;
    signals[2 * a + 1] = signals[2 * b + 1]!;
    signals[2 * b] = re;
    signals[2 * b + 1] = im;
  }

  /** Σ signals[n] e^{sign·j2πkn/samples}. */
  function transform(sign: number): void {
    for (let n = 0; n < samples; n++) if (partner[n]! > n) exchange(n, partner[n]!);
    for (let half = 1; half < samples; half *= 2) {
      const stride = harmonics / half;
      for (let start = 0; start < samples; start += 2 * half) {
        for (let k = 0; k < half; k++) {
          const turnRe = turns[2 * k * stride]!;
          const turnIm = sign * turns[2 * k * stride + 1]!;
          const low = 2 * (start + k);
          const high = low + 2 * half;
          const re = signals[high]! * turnRe - signals[high + 1]! * turnIm;
          const im = signals[high]! * turnIm + signals[high + 1]! * turnRe;
          signals[high] = signals[low]! - re;
          signals[high + 1] = signals[low + 1]! - im;
          signals[low] = signals[low]! + re;
          signals[low + 1] = signals[low + 1]! + im;
        }
      }
    }
  }

  return {
    samples,
    harmonics,
    signals,
    analyse(first, second, at) {
      transform(-1);
      first[at] = signals[0]! / samples;
      second[at] = signals[1]! / samples;
      first[at + 1] = 0;
      second[at + 1] = 0;
      for (let k = 1; k < harmonics; k++) {
        const re = signals[2 * k]!;
        const im = signals[2 * k + 1]!;
        const mirrorRe = signals[2 * (samples - k)]!;
        const mirrorIm = signals[2 * (samples - k) + 1]!;
        first[at + 2 * k] = (re + mirrorRe) / samples;
        first[at + 2 * k + 1] = (im - mirrorIm) / samples;
        second[at + 2 * k] = (im + mirrorIm) / samples;
        second[at + 2 * k + 1] = (mirrorRe - re) / samples;
      }
    },
    synthesise(first, atFirst, second, atSecond) {
      signals[0] = first[atFirst]!;
      signals[1] = second[atSecond]!;
      signals[samples] = 0;
      signals[samples + 1] = 0;
      for (let k = 1; k < harmonics; k++) {
        const ar = first[atFirst + 2 * k]! / 2;
        const ai = first[atFirst + 2 * k + 1]! / 2;
        const br = second[atSecond + 2 * k]! / 2;
        const bi = second[atSecond + 2 * k + 1]! / 2;
        signals[2 * k] = ar - bi;
        signals[2 * k + 1] = ai + br;
        signals[2 * (samples - k)] = ar + bi;
        signals[2 * (samples - k) + 1] = br - ai;
      }
      transform(1);
    },
  };
}
