import { logFrequencies } from '@curvewright/curves';
import { noiseDensities, noiseGenerators, railTransfer } from '@curvewright/network';
import { gainReader } from './gain-reader.ts';
import { rippleLines } from './hum.ts';
import { programmeVolts } from './source-words.ts';
import type { Stage } from './stage.ts';

/** What a channel's output makes by itself, over what the programme of 5 mV at 1 kHz makes there. */
export interface AudibleNoise {
  readonly name: string;
  /** Ratios of rms over √Hz, over ascending Hz. */
  readonly hiss: readonly { readonly hz: number; readonly ratio: number }[];
  /** Ratios of rms; several rails may have the same frequency. */
  readonly hum: readonly { readonly hz: number; readonly ratio: number }[];
}

const [lowestHz, highestHz, density] = [5, 50_000, 12];

/** Input shorted; hum through rails and common nodes only. */
export function audibleNoise(stage: Stage): readonly AudibleNoise[] {
  const { circuit, network, point, small } = stage;
  const hz = logFrequencies(lowestHz, highestHz, density);
  const outputs = small.channels.map(({ output }) => output);
  const densities = noiseDensities(small, noiseGenerators(network, point), outputs, Float64Array.from(hz));
  const transfer = railTransfer(network, small);
  const reader = gainReader(stage);
  return circuit.channels.map(({ name }, channel) => {
    const programme = programmeVolts * 10 ** (reader.gainDb(channel, 1000) / 20);
    const powers = new Float64Array(hz.length);
    densities[channel]?.forEach((power, k) => {
      powers[k % hz.length] = (powers[k % hz.length] ?? 0) + power;
    });
    return {
      name,
      hiss: [...hz].map((each, n) => ({ hz: each, ratio: Math.sqrt(powers[n] ?? NaN) / programme })),
      hum: circuit.rails.flatMap((rail, index) =>
        rippleLines(rail).flatMap((line) => {
          const ratio = (line.volts * (transfer.at(line.hz)[index]?.[channel] ?? NaN)) / programme;
          return ratio > 0 ? [{ hz: line.hz, ratio }] : [];
        }),
      ),
    };
  });
}
