import { aWeightingPower, bandQuadrature, nominalFrequencies } from '@curvewright/curves';
import { noiseDensities, noiseGenerators, type NoiseGenerator } from '@curvewright/network';
import { gainReader } from './gain-reader.ts';
import type { IdealFigure } from './ideal-figures.ts';
import { silentNoiseFigures } from './silent-noise.ts';
import { programmeVolts, programmeWords, sourceWords } from './source-words.ts';
import type { Stage } from './stage.ts';

/** Hiss: the output noise from 20 Hz to 20 kHz over the gain from input node to output node at 1 kHz, rms. */
export interface NoiseAnswer {
  /** What stands at the input. */
  readonly source: string;
  /** What the signal-to-noise ratios are held against. */
  readonly reference: string;
  readonly weighting: string;
  readonly fromHz: number;
  readonly toHz: number;
  readonly channels: readonly ChannelNoise[];
  /** Figures of noise on which the file is silent: computed as if there were none. */
  readonly ideal: readonly IdealFigure[];
}

export interface ChannelNoise {
  readonly name: string;
  /** At 1 kHz. */
  readonly gainDb: number;
  readonly inputUv: number;
  readonly inputAWeightedUv: number;
  readonly snrDb: number;
  readonly snrAWeightedDb: number;
  /** Each part's part in the power, of 1; the largest first. */
  readonly shares: readonly NoiseShare[];
  /** Densities, nV/√Hz: at the output, and over the gain at the same frequency. */
  readonly points: readonly { readonly hz: number; readonly outputNv: number; readonly inputNv: number }[];
}

export interface NoiseShare {
  /** A designator; `input@left` for the source, `load@left` for the load, a rail's node for its supply. */
  readonly ref: string;
  readonly share: number;
  readonly aWeightedShare: number;
  /** What in the part makes it. */
  readonly from: readonly { readonly name: string; readonly share: number; readonly aWeightedShare: number }[];
}

const [fromHz, toHz] = [20, 20_000];
const spectrumFrequencies = nominalFrequencies(fromHz, toHz);

/** `cartridge`: its name, where the stage's source is one. */
export function noiseAnswer(stage: Stage, cartridge?: string): NoiseAnswer {
  const generators = noiseGenerators(stage.network, stage.point);
  const { frequencies, weights } = bandQuadrature(fromHz, toHz);
  const weighted = weights.map((weight, n) => weight * aWeightingPower(frequencies[n] ?? NaN));
  const outputs = stage.small.channels.map(({ output }) => output);
  const inBand = noiseDensities(stage.small, generators, outputs, frequencies);
  const spectra = noiseDensities(stage.small, generators, outputs, Float64Array.from(spectrumFrequencies));
  const reader = gainReader(stage);
  return {
    source: sourceWords(stage.source, cartridge),
    reference: programmeWords,
    weighting: 'none, and A (IEC 61672-1)',
    fromHz,
    toHz,
    channels: stage.circuit.channels.map(({ name }, channel): ChannelNoise => {
      const densities = inBand[channel] ?? new Float64Array(0);
      const spectrum = spectra[channel] ?? new Float64Array(0);
      const powers = powersOf(densities, weights);
      const aPowers = powersOf(densities, weighted);
      const gain = 10 ** (reader.gainDb(channel, 1000) / 20);
      const input = Math.sqrt(sum(powers)) / gain;
      const inputAWeighted = Math.sqrt(sum(aPowers)) / gain;
      return {
        name,
        gainDb: reader.gainDb(channel, 1000),
        inputUv: input * 1e6,
        inputAWeightedUv: inputAWeighted * 1e6,
        snrDb: 20 * Math.log10(programmeVolts / input),
        snrAWeightedDb: 20 * Math.log10(programmeVolts / inputAWeighted),
        shares: sharesOf(generators, powers, aPowers),
        points: spectrumFrequencies.map((hz, n) => {
          const output = 1e9 * Math.sqrt(densityAt(spectrum, n));
          return { hz, outputNv: output, inputNv: output / 10 ** (reader.gainDb(channel, hz) / 20) };
        }),
      };
    }),
    ideal: silentNoiseFigures(stage.circuit),
  };
}

/** V² in the band of every generator. */
function powersOf(densities: Float64Array, weights: Float64Array): Float64Array {
  const powers = new Float64Array(densities.length / weights.length);
  densities.forEach((density, k) => {
    const g = Math.floor(k / weights.length);
    powers[g] = (powers[g] ?? 0) + density * (weights[k - g * weights.length] ?? NaN);
  });
  return powers;
}

/** V²/Hz of all generators together at one of the spectrum's frequencies. */
function densityAt(densities: Float64Array, n: number): number {
  let total = 0;
  for (let k = n; k < densities.length; k += spectrumFrequencies.length) total += densities[k] ?? NaN;
  return total;
}

function sharesOf(
  generators: readonly NoiseGenerator[],
  powers: Float64Array,
  aPowers: Float64Array,
): readonly NoiseShare[] {
  const [whole, aWhole] = [sum(powers), sum(aPowers)];
  const byRef = new Map<string, Map<string, { share: number; aWeightedShare: number }>>();
  generators.forEach(({ ref, name }, g) => {
    const ofPart = byRef.get(ref) ?? new Map<string, { share: number; aWeightedShare: number }>();
    const before = ofPart.get(name) ?? { share: 0, aWeightedShare: 0 };
    ofPart.set(name, {
      share: before.share + (powers[g] ?? NaN) / whole,
      aWeightedShare: before.aWeightedShare + (aPowers[g] ?? NaN) / aWhole,
    });
    byRef.set(ref, ofPart);
  });
  return [...byRef]
    .map(([ref, ofPart]) => {
      const from = [...ofPart].map(([name, shares]) => ({ name, ...shares })).sort((a, b) => b.share - a.share);
      return {
        ref,
        share: sum(from.map(({ share }) => share)),
        aWeightedShare: sum(from.map(({ aWeightedShare }) => aWeightedShare)),
        from,
      };
    })
    .filter(({ share }) => share > 0)
    .sort((a, b) => b.share - a.share);
}

function sum(numbers: Iterable<number>): number {
  let total = 0;
  for (const number of numbers) total += number;
  return total;
}
