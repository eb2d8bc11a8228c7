import { samplesOf, spectrumOf, transformSize } from '../spectrum/fourier.ts';
import { bridgeMains } from './bridge-mains.ts';

/** A stretch of a deconvolved recording around a lag, s: whole from −before/2 to after/2, then a half cosine to nothing. */
export interface Gate {
  readonly before: number;
  readonly after: number;
}

/** A recording divided by the sweep that was played: at lag 0 the response, earlier by `lagOf(sweep, N)` the Nth harmonic. */
export interface Deconvolved {
  readonly rate: number;
  /** Circular: negative lags stand at the end. */
  readonly samples: Float64Array;
}

/** Divides the spectrum of what came back by that of what went out, between two frequencies; nothing beyond them is kept, nor the hum of the mains. Both of the same length. */
export function deconvolver(
  sent: Float64Array,
  rate: number,
  [from, to]: readonly [number, number],
): (recorded: Float64Array) => Deconvolved {
  const size = transformSize(sent.length);
  const divisor = spectrumOf(sent, size);
  const [first, last] = [Math.ceil((from * size) / rate), Math.floor((to * size) / rate)];
  return (recorded) => {
    const quotient = spectrumOf(recorded, size);
    for (let k = 0; k <= size / 2; k++) {
      const [re, im] = [quotient[2 * k]!, quotient[2 * k + 1]!];
      const [a, b] = [divisor[2 * k]!, divisor[2 * k + 1]!];
      const power = k < first || k > last ? Infinity : a * a + b * b;
      quotient[2 * k] = (re * a + im * b) / power;
      quotient[2 * k + 1] = (im * a - re * b) / power;
    }
    bridgeMains(quotient, rate / size, recorded.length / rate);
    return { rate, samples: samplesOf(quotient) };
  };
}

/** The spectrum of what a gate lets through around a lag in s, the lag itself taken as time 0: re, im pairs, bins of rate/size. */
export function gatedSpectrum({ rate, samples }: Deconvolved, lag: number, gate: Gate): Float64Array {
  const size = gateSize(rate, gate);
  const windowed = new Float64Array(size);
  const [before, after] = [Math.floor(gate.before * rate), Math.floor(gate.after * rate)];
  const centre = Math.round(lag * rate);
  for (let n = -before; n <= after; n++) {
    windowed[wrapped(n, size)] = weightAt(n, before, after) * samples[wrapped(centre + n, samples.length)]!;
  }
  return spectrumOf(windowed, size);
}

/** The sum of a gate's squared weights. */
export function gateEnergy(rate: number, gate: Gate): number {
  const [before, after] = [Math.floor(gate.before * rate), Math.floor(gate.after * rate)];
  let sum = 0;
  for (let n = -before; n <= after; n++) sum += weightAt(n, before, after) ** 2;
  return sum;
}

function weightAt(n: number, before: number, after: number): number {
  const share = n < 0 ? -n / before : n / after;
  return share <= 0.5 ? 1 : 0.5 + 0.5 * Math.cos(2 * Math.PI * (share - 0.5));
}

/** Samples of the transform behind `gatedSpectrum`: twice what the gate holds, so that a narrow fit finds bins enough. */
export function gateSize(rate: number, { before, after }: Gate): number {
  return transformSize(2 * (before + after) * rate);
}

function wrapped(n: number, size: number): number {
  return ((n % size) + size) % size;
}
