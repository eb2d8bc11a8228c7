import { samplesOf, spectrumOf, transformSize } from '../spectrum/fourier.ts';

/** Where a marker begins, in samples of the recording (with a fraction), and how well it fits there: 1 is the marker and nothing else in its band. */
export interface MarkerHit {
  readonly sample: number;
  readonly likeness: number;
}

/**
 * Below this likeness a place is no marker: through an equaliser (−19 dB an octave or so at most) one keeps 0.9, music or a slow sweep that
 * crosses the marker's band reaches 0.2 (both measured on made recordings).
 */
const leastLikeness = 0.5;
/** Bins of the marker's spectrum this far below its largest power are no part of its band. */
const bandFloor = 0.01;

/**
 * The first place from one sample of a recording to another that holds the marker, a chirp at the recording's rate: the highest maximum of the matched
 * filter's envelope over the root of the energy in the marker's band there (Turin, IRE Trans. IT-6, 1960), read between samples by a parabola. Null where
 * there is none.
 */
export function findMarker(
  recording: Float64Array,
  marker: Float64Array,
  from = 0,
  to: number = recording.length,
): MarkerHit | null {
  const size = transformSize(8 * marker.length);
  const matched = matchedFilter(marker, size);
  const ends = Math.min(recording.length, Math.ceil(to) + marker.length);
  for (let at = Math.max(0, Math.floor(from)); at + marker.length <= ends; at += size - marker.length) {
    const along = filtered(recording.subarray(at, Math.min(ends, at + size)), matched, marker.length);
    const best = likeliest(along);
    if (best >= 0)
      return { sample: at + envelopePeak(along.envelope, best) * matched.thinned, likeness: along.likeness[best]! };
  }
  return null;
}

interface MatchedFilter {
  /** The marker's spectrum over the root of its energy, in its band alone; up to `bins`. */
  readonly spectrum: Float64Array;
  readonly inBand: Uint8Array;
  readonly size: number;
  /** Samples of the recording to one sample of the correlation: the band alone is turned back. */
  readonly thinned: number;
}

function matchedFilter(marker: Float64Array, size: number): MatchedFilter {
  const whole = spectrumOf(marker, size);
  const powers = Float64Array.from({ length: size / 2 + 1 }, (_, k) => whole[2 * k]! ** 2 + whole[2 * k + 1]! ** 2);
  const floor = bandFloor * powers.reduce((most, power) => Math.max(most, power), 0);
  const highest = powers.findLastIndex((power) => power > floor);
  // Ten values to the shortest period: the envelope, slower than that, is then a parabola between them.
  const bins = Math.min(size / 2, transformSize(5 * highest));
  const spectrum = new Float64Array(2 * bins + 2);
  const inBand = new Uint8Array(bins + 1);
  let energy = 0;
  for (let k = 0; k <= highest; k++) {
    if (powers[k]! <= floor) continue;
    inBand[k] = 1;
    spectrum[2 * k] = whole[2 * k]!;
    spectrum[2 * k + 1] = whole[2 * k + 1]!;
    energy += powers[k]!;
  }
  const norm = Math.sqrt(energy);
  return { spectrum: spectrum.map((x) => x / norm), inBand, size, thinned: size / (2 * bins) };
}

/** At every `thinned`-th sample of a stretch: the matched filter's envelope, and that over the root of the energy in the band. */
interface Filtered {
  readonly envelope: Float64Array;
  readonly likeness: Float64Array;
}

function filtered(stretch: Float64Array, { spectrum, inBand, size, thinned }: MatchedFilter, length: number): Filtered {
  const whole = spectrumOf(stretch, size);
  const product = new Float64Array(spectrum.length);
  const turned = new Float64Array(spectrum.length);
  const banded = new Float64Array(spectrum.length);
  for (let k = 0; k < inBand.length; k++) {
    if (inBand[k] === 0) continue;
    const [re, im] = [whole[2 * k]!, whole[2 * k + 1]!];
    const [a, b] = [spectrum[2 * k]!, spectrum[2 * k + 1]!];
    product[2 * k] = turned[2 * k + 1] = re * a + im * b;
    product[2 * k + 1] = im * a - re * b;
    turned[2 * k] = -product[2 * k + 1]!;
    banded[2 * k] = re;
    banded[2 * k + 1] = im;
  }
  // The envelope, not the correlation, has one maximum whatever phase the equaliser gives the marker.
  const [real, imaginary] = [samplesOf(product), samplesOf(turned)];
  const signal = samplesOf(banded);
  const span = Math.round(length / thinned);
  const places = Math.max(0, Math.floor((stretch.length - length) / thinned) + 1);
  const [envelope, likeness] = [new Float64Array(places), new Float64Array(places)];
  // Parseval over the thinned samples: Σ|X|² of both halves of the spectrum is twice the `energy` of one.
  const scale = Math.sqrt((spectrum.length - 2) / 2);
  let energy = 0;
  for (let n = 0; n < span; n++) energy += signal[n]! ** 2;
  const quiet = 1e-9 * signal.reduce((sum, x) => sum + x * x, 0);
  for (let n = 0; n < places; n++) {
    envelope[n] = Math.hypot(real[n]!, imaginary[n]!);
    likeness[n] = energy > quiet ? (scale * envelope[n]!) / Math.sqrt(energy) : 0;
    energy += (signal[n + span] ?? 0) ** 2 - signal[n]! ** 2;
  }
  return { envelope, likeness };
}

/** Where the likeness is highest; −1 where it is nowhere enough. */
function likeliest({ likeness }: Filtered): number {
  let best = -1;
  for (let n = 1; n < likeness.length - 1; n++) {
    if (likeness[n]! >= leastLikeness && likeness[n]! > (likeness[best] ?? 0)) best = n;
  }
  return best;
}

/**
 * The envelope's maximum near a place. The likeness tells the marker, not the moment: an equaliser makes one end of a chirp louder, a
 * rising one's first and a falling one's last, and the energy under it shifts the likeness towards it.
 */
function envelopePeak(envelope: Float64Array, near: number): number {
  let n = near;
  while ((envelope[n + 1] ?? 0) > envelope[n]!) n++;
  while ((envelope[n - 1] ?? 0) > envelope[n]!) n--;
  const [left, here, right] = [envelope[n - 1] ?? 0, envelope[n]!, envelope[n + 1] ?? 0];
  return n + (left - right) / (2 * (left - 2 * here + right));
}
