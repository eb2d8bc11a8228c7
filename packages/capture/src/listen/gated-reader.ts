import { gatedSpectrum, gateSize, type Gate } from './gates.ts';
import { fitted, localFit, type LocalFit } from './local-fit.ts';
import { growthOf, momentOf, type Pair, type SweepTake } from './sweep-take.ts';

/** Reads a deconvolved sweep through one gate. */
export interface GatedReader {
  /** The value at a frequency around a lag in s; null outside the sweep. */
  value(hz: number, lag: number): Pair | null;
  /** Power of the noise in such a value; null where the recording has no quiet lag. */
  noise(hz: number): number | null;
}

/**
 * Half the width of a fit, octaves: an eighth takes most of a mains line away from the points beside it and at it; below the mains a sixteenth, where
 * the subsonic corner bends the response.
 */
function fitOctaves(hz: number): number {
  return hz < 40 ? 1 / 16 : 1 / 8;
}

/** Lags at which noise is read, to the length of the sweep. */
const quietLags = 8;
/** Orders between whose images noise is read, too. */
const orders = [1, 2, 3, 4, 5, 6, 7, 8];

/**
 * `flatten` (re, im pairs of the gate's bins, or null) is what the values are divided by before they are fitted, so that what is fitted hardly bends.
 */
export function gatedReader(take: SweepTake, gate: Gate, flatten: Float64Array | null): GatedReader {
  const { rate, heard, fromHz, highestHz } = take;
  const stepHz = rate / gateSize(rate, gate);
  // At its ends the band is cut off sharply, and the gate spreads the cut by about one over its length.
  const spread = 2 / (gate.before + gate.after);
  const spectra = new Map<number, Float64Array>();
  const fits = new Map<number, LocalFit | null>();
  const spectrumAt = (lag: number): Float64Array => {
    const known = spectra.get(lag);
    if (known !== undefined) return known;
    const spectrum = gatedSpectrum(heard, lag, gate);
    if (flatten !== null) divide(spectrum, flatten);
    spectra.set(lag, spectrum);
    return spectrum;
  };
  const fitAt = (hz: number): LocalFit | null => {
    const known = fits.get(hz);
    if (known !== undefined) return known;
    const fit = localFit(hz, stepHz, fitOctaves(hz), fromHz + spread, highestHz - spread);
    fits.set(hz, fit);
    return fit;
  };
  return {
    value(hz, lag) {
      const fit = fitAt(hz);
      return fit === null ? null : fitted(fit, spectrumAt(lag));
    },
    noise(hz) {
      const fit = fitAt(hz);
      const lags = fit === null ? [] : lagsWithNoise(take, gate, hz);
      if (fit === null || lags.length === 0) return null;
      const powers = lags.map((lag) => powerOf(fitted(fit, spectrumAt(lag))));
      return powers.reduce((sum, power) => sum + power, 0) / powers.length;
    },
  };
}

/** Lags that hold neither response nor a harmonic, and at which the recording was still or already running when the sweep passed `hz`. */
export function lagsWithNoise(take: SweepTake, gate: Gate, hz: number): readonly number[] {
  const after = Array.from({ length: quietLags }, (_, n) => ((n + 1) * take.seconds) / quietLags).filter(
    (lag) => lag > gate.after + gate.before,
  );
  const between = orders
    .map((n) => (-growthOf(take) * (Math.log(n) + Math.log(n + 1))) / 2)
    .filter((_, n) => gate.before + gate.after < growthOf(take) * Math.log((n + 2) / (n + 1)));
  const ends = take.lasts;
  return [...after, ...between].filter((lag) => {
    const moment = momentOf(take, hz) + lag;
    return moment > gate.before && moment < ends - gate.after;
  });
}

function divide(spectrum: Float64Array, by: Float64Array): void {
  for (let k = 0; k < spectrum.length; k += 2) {
    const [re, im, a, b] = [spectrum[k]!, spectrum[k + 1]!, by[k]!, by[k + 1]!];
    const power = a * a + b * b;
    spectrum[k] = power === 0 ? 0 : (re * a + im * b) / power;
    spectrum[k + 1] = power === 0 ? 0 : (im * a - re * b) / power;
  }
}

export function powerOf([re, im]: Pair): number {
  return re * re + im * im;
}
