import { joinHits, type Hit } from './hits.ts';
import { clickLayer, shapeLayer, type LayerOptions } from './layers.ts';
import { levelDrift, secondMeans, type LevelDrift } from './level-drift.ts';
import { nthSmallest } from './robust-scale.ts';

/** What a recording of silence has in one channel. */
export interface Pops {
  /** s that were looked at. */
  readonly seconds: number;
  /** In order of time. */
  readonly hits: readonly Hit[];
  /** Heights, as shares of full scale, of which 98 in 100 are found: of a click in one sample, and of a step; null where the recording is too short. */
  readonly least: { readonly click: number | null; readonly step: number | null };
  readonly drift: LevelDrift | null;
  /** Samples at full scale. */
  readonly clipped: number;
}

export interface PopDetector {
  /** One channel's next samples, full scale ±1, any number of them. */
  readonly push: (samples: Float32Array | Float64Array) => void;
  /** The end: the hits, once. */
  readonly finish: () => Pops;
}

export interface PopDetectorOptions {
  /** Hz. */
  readonly rate: number;
  /** Of one step of the samples, as a share of full scale: 2⁻¹⁵ of 16 bits; 0 of floating point. */
  readonly step: number;
  /** Standard deviations of the noise beyond which something is a pop. */
  readonly threshold?: number;
}

/**
 * 7 standard deviations: of the 7·10⁸ samples of an hour of two channels at 96 kHz, Gaussian noise brings one beyond it in 600 hours
 * (2·Q(7) = 2.6·10⁻¹²).
 */
export const usualThreshold = 7;

/** Further standard deviations, with which the noise hides 2 of 100: Q(2.05). */
const sure = 2.05;

/** Of 24 bits: no converter is finer, whatever a file could hold. */
const finestStep = 2 ** -23;

/** Rates, in Hz, at which a recording is looked at beside its own: clicks as an equaliser's treble widens them; slow pops and levels. */
const middleRate = 12_000;
const slowRate = 1500;

/** Finds pops in one channel of a recording of silence, as it comes. The hits are the same however the samples are cut. */
export function popDetector({ rate, step, threshold = usualThreshold }: PopDetectorOptions): PopDetector {
  const layerAt = (factor: number): LayerOptions => ({ rate, factor, threshold, step: Math.max(step, finestStep) });
  const middle = Math.round(rate / middleRate);
  const clicks = [clickLayer(layerAt(1)), ...(middle > 1 ? [clickLayer(layerAt(middle))] : [])];
  const slow = shapeLayer(layerAt(Math.max(1, Math.round(rate / slowRate))));
  const level = secondMeans(rate);
  let [samplesSeen, clipped] = [0, 0];
  const push = (samples: Float32Array | Float64Array): void => {
    samplesSeen += samples.length;
    for (let n = 0; n < samples.length; n++) if (Math.abs(samples[n]!) > fullScale) clipped++;
    for (const part of [...clicks, slow, level]) part.push(samples);
  };
  const finish = (): Pops => {
    for (const part of [...clicks, slow]) part.finish();
    const [finest] = clicks;
    const leastOf = (units: readonly number[]): number | null =>
      units.length === 0
        ? null
        : (threshold + sure) * nthSmallest(Float64Array.from(units), units.length, units.length >> 1);
    return {
      seconds: samplesSeen / rate,
      hits: joinHits(
        clicks.map(({ candidates }) => candidates),
        slow.candidates,
      ),
      least: { click: leastOf(finest!.unitHeights.click), step: leastOf(slow.unitHeights.step) },
      drift: levelDrift(level.means),
      clipped,
    };
  };
  return { push, finish };
}

/** What 16 bits can say at most, less a step. */
const fullScale = 0.99993;
