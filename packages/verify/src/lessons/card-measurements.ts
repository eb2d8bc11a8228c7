import { nodeVolts } from '@curvewright/network';
import type { Probe } from '../figure.ts';
import { noiseAnswer } from '../noise.ts';
import { nodesOfChannel } from '../node-volts.ts';
import { taught } from './lesson-bench.ts';

/** Something that can be measured on a card's board. */
export type CardMeasurement =
  | { readonly what: 'volts'; readonly node: string; readonly unit: 'V' }
  | { readonly what: 'level'; readonly hz: number; readonly unit: 'dB' }
  | { readonly what: 'gain' | 'hiss'; readonly unit: 'dB' | 'µV' };

/** What is asked of levels re 1 kHz. */
const levels = [20, 100, 10_000, 20_000];

/** The levels, gain and hiss of the taught channel, and its voltages but for input and supplies. `node`: full names. */
export function cardMeasurements({ stage }: Probe): readonly CardMeasurement[] {
  const { channels, rails } = stage.circuit;
  const { name = '', input } = channels[taught] ?? {};
  const given = new Set([input, ...rails.map(({ node }) => node)]);
  const nodes = nodesOfChannel(stage, name).filter((node) => !given.has(node));
  return [
    { what: 'gain', unit: 'dB' },
    ...levels.map((hz): CardMeasurement => ({ what: 'level', hz, unit: 'dB' })),
    { what: 'hiss', unit: 'µV' },
    ...nodes.map((node): CardMeasurement => ({ what: 'volts', node, unit: 'V' })),
  ];
}

/** All of them on one board; a node that a fault took away reads as one that is not there. */
export function readings({ stage, reader }: Probe, measurements: readonly CardMeasurement[]): readonly number[] {
  const hiss = noiseAnswer(stage).channels[taught]?.inputAWeightedUv ?? NaN;
  return measurements.map((measurement) => {
    switch (measurement.what) {
      case 'volts':
        return stage.network.nodes.has(measurement.node)
          ? nodeVolts(stage.network, stage.point, measurement.node)
          : NaN;
      case 'level':
        return reader.deviationDb(taught, measurement.hz);
      case 'gain':
        return reader.gainDb(taught, 1000);
      case 'hiss':
        return hiss;
    }
  });
}

export type Change = 'same' | 'lower' | 'higher';

/** What a meter shows of a change: volts by 5 % and 50 mV, levels by 0.5 dB, hiss by a fifth; common practice, no source. */
export function changeOf({ unit }: CardMeasurement, healthy: number, now: number): Change {
  const size = Math.max(Math.abs(healthy), Math.abs(now));
  const least = unit === 'dB' ? 0.5 : unit === 'V' ? Math.max(0.05, 0.05 * size) : 0.2 * size;
  // What cannot be read is no change.
  if (!(Math.abs(now - healthy) > least)) return 'same';
  return now > healthy ? 'higher' : 'lower';
}
