import FFT from 'fft.js';

/** dB over ascending Hz. */
export interface LevelCurve {
  readonly hz: ArrayLike<number>;
  readonly db: ArrayLike<number>;
}

/** What of fft.js is used: arrays of re, im pairs. */
interface Transform {
  transform(out: Float64Array, from: Float64Array): void;
  inverseTransform(out: Float64Array, from: Float64Array): void;
}

/** Samples: long enough for the subsonic, and for the logarithm's echoes (see `minimumPhase`) to die away. */
const size = 2 ** 17;
const taps = 2 ** 15;

/** Part of the taps over which they fade out. */
const fade = 1 / 8;

/**
 * The impulse response of minimum phase that has this level at every frequency; the ends hold beyond the curve's. By way of the real
 * cepstrum, folded onto positive times (Oppenheim and Schafer, Discrete-Time Signal Processing, homomorphic processing; from memory).
 */
export function minimumPhase(curve: LevelCurve, sampleRate: number): Float32Array<ArrayBuffer> {
  const transform = new FFT(size) as Transform;
  const logs = new Float64Array(2 * size);
  for (let k = 0; k <= size / 2; k++) {
    const log = (levelAt(curve, (k * sampleRate) / size) * Math.LN10) / 20;
    logs[2 * k] = log;
    if (k > 0 && k < size / 2) logs[2 * (size - k)] = log;
  }
  const cepstrum = new Float64Array(2 * size);
  transform.inverseTransform(cepstrum, logs);
  for (let n = 0; n < size; n++) {
    cepstrum[2 * n] = (cepstrum[2 * n] ?? 0) * (n === 0 || n === size / 2 ? 1 : n < size / 2 ? 2 : 0);
    cepstrum[2 * n + 1] = 0;
  }
  const spectrum = new Float64Array(2 * size);
  transform.transform(spectrum, cepstrum);
  for (let k = 0; k < size; k++) {
    const [magnitude, angle] = [Math.exp(spectrum[2 * k] ?? 0), spectrum[2 * k + 1] ?? 0];
    spectrum[2 * k] = magnitude * Math.cos(angle);
    spectrum[2 * k + 1] = magnitude * Math.sin(angle);
  }
  const response = new Float64Array(2 * size);
  transform.inverseTransform(response, spectrum);
  return Float32Array.from({ length: taps }, (_, n) => (response[2 * n] ?? 0) * faded(n));
}

function faded(n: number): number {
  const from = taps * (1 - fade);
  return n < from ? 1 : 0.5 * (1 + Math.cos((Math.PI * (n - from)) / (taps - from)));
}

/** Straight between the points over the logarithm of frequency. */
export function levelAt({ hz, db }: LevelCurve, at: number): number {
  let [low, high] = [0, hz.length - 1];
  const [first = NaN, last = NaN] = [hz[low], hz[high]];
  if (at <= first) return db[low] ?? NaN;
  if (at >= last) return db[high] ?? NaN;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((hz[middle] ?? NaN) <= at) low = middle;
    else high = middle;
  }
  const [from = NaN, to = NaN] = [hz[low], hz[high]];
  const share = Math.log(at / from) / Math.log(to / from);
  return (1 - share) * (db[low] ?? NaN) + share * (db[high] ?? NaN);
}
