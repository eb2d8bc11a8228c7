import { aWeightingPower, logFrequencies } from '@curvewright/curves';
import { noiseDensities, noiseGenerators } from '@curvewright/network';
import { gainReader } from '../gain-reader.ts';
import type { Stage } from '../stage.ts';

/** Points per decade: the sum then lies within a tenth of a dB of a fine one on every seed board. */
const density = 4;

/**
 * dB re 1 V of each channel's A-weighted noise from 20 Hz to 20 kHz over its gain at 1 kHz: the quick form of `noiseAnswer`, for hundreds of circuits.
 * Null where a channel passes nothing.
 */
export function hissLevels(stage: Stage): readonly (number | null)[] {
  const frequencies = logFrequencies(20, 20_000, density);
  const generators = noiseGenerators(stage.network, stage.point);
  const outputs = stage.small.channels.map(({ output }) => output);
  const densities = noiseDensities(stage.small, generators, outputs, frequencies);
  const step = Math.LN10 / density;
  const reader = gainReader(stage);
  return densities.map((own, channel) => {
    let power = 0;
    frequencies.forEach((hz, n) => {
      let sum = 0;
      for (let g = 0; g < generators.length; g++) sum += own[g * frequencies.length + n]!;
      const end = n === 0 || n === frequencies.length - 1 ? 0.5 : 1;
      power += end * sum * aWeightingPower(hz) * hz * step;
    });
    const level = 10 * Math.log10(power) - reader.gainDb(channel, 1000);
    return Number.isFinite(level) ? level : null;
  });
}
