import { nominalFrequencies } from '@curvewright/curves';
import { samplesOf, transformSize } from '../spectrum/fourier.ts';
import { gatedSpectrum, gateSize, type Gate } from './gates.ts';
import { growthOf, momentOf, type Pair, type SweepTake } from './sweep-take.ts';

/** When a third octave of a sweep arrived. */
export interface Arrival {
  readonly hz: number;
  /** s from the start of the take to the moment at which the sweep passes it. */
  readonly moment: number;
  /** s by which it came later than the response alone lets it. */
  readonly late: number;
  /** s within which that is known. */
  readonly within: number;
}

/** Hz; below, a third octave lasts too long for its arrival to be told to some milliseconds. */
const lowest = 250;

/** How late each third octave of a sweep arrived: the envelope's maximum of its part of the response, without what is expected of it. */
export function arrivals(take: SweepTake, expected: (hz: number) => Pair): readonly Arrival[] {
  const reach = 0.4 * growthOf(take) * Math.LN2;
  const gate: Gate = { before: reach, after: reach };
  const spectrum = gatedSpectrum(take.heard, 0, gate);
  const stepHz = take.rate / gateSize(take.rate, gate);
  const top = take.highestHz / 2 ** (1 / 6);
  return (top < lowest ? [] : nominalFrequencies(lowest, top)).map((hz) => {
    const [first, last] = [Math.ceil(hz / 2 ** (1 / 6) / stepHz), Math.floor((hz * 2 ** (1 / 6)) / stepHz)];
    const count = last - first + 1;
    const bins = transformSize(4 * count) / 2;
    const [real, turned] = [new Float64Array(2 * bins + 2), new Float64Array(2 * bins + 2)];
    for (let n = 0; n < count; n++) {
      const k = first + n;
      const [a, b] = expected(k * stepHz);
      const weight = (1 - Math.cos((2 * Math.PI * (n + 0.5)) / count)) / (a * a + b * b);
      const [re, im] = [spectrum[2 * k]!, spectrum[2 * k + 1]!];
      // One bin up, so that none stands at 0 Hz, where it would count half.
      real[2 * n + 2] = turned[2 * n + 3] = weight * (re * a + im * b);
      real[2 * n + 3] = weight * (im * a - re * b);
      turned[2 * n + 2] = -real[2 * n + 3]!;
    }
    const late = latest(samplesOf(real), samplesOf(turned)) / (2 * bins * stepHz);
    return { hz, moment: momentOf(take, hz), late, within: 0.2 / (count * stepHz) };
  });
}

/** Where the envelope has its maximum, in samples from the first; those of the second half stand before it. */
function latest(real: Float64Array, turned: Float64Array): number {
  const size = real.length;
  const at = (n: number): number => Math.hypot(real[(n + size) % size]!, turned[(n + size) % size]!);
  let best = 0;
  for (let n = 1; n < size; n++) if (at(n) > at(best)) best = n;
  const [left, here, right] = [at(best - 1), at(best), at(best + 1)];
  const shift = (left - right) / (2 * (left - 2 * here + right));
  return (best < size / 2 ? best : best - size) + shift;
}
