import type { Limits } from '@curvewright/board';
import { logFrequencies } from '@curvewright/curves';
import { gainReader, type GainReader } from './gain-reader.ts';
import { channelNodes, type NodeVolts } from './node-volts.ts';
import { firstFallThrough, furthestPoint, highestPoint } from './search-curve.ts';
import type { Stage } from './stage.ts';
import { deviceBias, type PartBias } from './voltage-chart.ts';

/** What one stage does, in the numbers the verdict is made of. */
export interface StageSheet {
  /** Largest level difference between the channels over the balance limit's band, dB; null for one channel. */
  readonly balanceDb: number | null;
  readonly channels: readonly ChannelSheet[];
}

export interface ChannelSheet {
  readonly name: string;
  /** At 1 kHz. */
  readonly gainDb: number;
  /** Signed, over the deviation limit's band. */
  readonly worstDeviationDb: number;
  readonly worstHz: number;
  /** Highest frequency below 1 kHz where deviation falls through −3 dB; null under 2 Hz. */
  readonly rolloffHz: number | null;
  /** Lowest frequency above 1 kHz where it does; null over 100 kHz. */
  readonly rolloffHighHz: number | null;
  readonly subsonicPeaks: readonly { fromHz: number; toHz: number; db: number; hz: number }[];
  readonly points: readonly { hz: number; deviationDb: number }[];
  readonly nodes: readonly NodeVolts[];
  /** Bias of its transistors, diodes, valves and op-amps. */
  readonly devices: readonly PartBias[];
}

/** The frequencies every sheet lists, Hz. */
export const sheetFrequencies: readonly number[] = [
  2, 5, 10, 20, 30, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 15_000, 20_000, 50_000, 100_000,
];

const lowestHz = 2;
const highestHz = 100_000;

export function stageSheet(stage: Stage, limits: Limits, reader: GainReader = gainReader(stage)): StageSheet {
  return {
    balanceDb: balance(stage, limits, reader),
    channels: stage.circuit.channels.map(({ name }, i) => channelSheet(stage, limits, reader, name, i)),
  };
}

function channelSheet(stage: Stage, limits: Limits, reader: GainReader, name: string, index: number): ChannelSheet {
  const deviation = (hz: number): number => reader.deviationDb(index, hz);
  const worst = furthestPoint(deviation, limits.deviation.from, limits.deviation.to);
  return {
    name,
    gainDb: reader.gainDb(index, 1000),
    worstDeviationDb: worst.db,
    worstHz: worst.hz,
    rolloffHz: firstFallThrough(deviation, -3, 1000, lowestHz),
    rolloffHighHz: firstFallThrough(deviation, -3, 1000, highestHz),
    subsonicPeaks: [limits.subsonic_low, limits.subsonic_high].map(({ from, to }) => ({
      fromHz: from,
      toHz: to,
      ...highestPoint(deviation, from, to),
    })),
    points: sheetFrequencies.map((hz) => ({ hz, deviationDb: deviation(hz) })),
    nodes: channelNodes(stage, name),
    devices: deviceBias(stage, name),
  };
}

function balance(stage: Stage, limits: Limits, reader: GainReader): number | null {
  const { from, to } = limits.balance;
  const others = stage.circuit.channels.length - 1;
  if (others < 1) return null;
  let worst = 0;
  for (let i = 1; i <= others; i++) {
    const difference = (hz: number): number => reader.gainDb(i, hz) - reader.gainDb(0, hz);
    worst = Math.max(worst, Math.abs(furthestPoint(difference, from, to).db));
  }
  return worst;
}

/** Deviation of every channel on a grid fine enough to draw. */
export function deviationCurves(
  stage: Stage,
  reader: GainReader,
  perDecade: number,
): { hz: readonly number[]; channels: readonly (readonly number[])[] } {
  const hz = [...logFrequencies(lowestHz, highestHz, perDecade)];
  return { hz, channels: stage.circuit.channels.map((_, i) => hz.map((f) => reader.deviationDb(i, f))) };
}
