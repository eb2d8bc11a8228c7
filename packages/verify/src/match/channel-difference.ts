import type { Circuit, Limits, Part } from '@curvewright/board';
import { logFrequencies } from '@curvewright/curves';
import { nodeVolts, solveResponse } from '@curvewright/network';
import { bareName } from '../node-volts.ts';
import { varyStage, type Stage } from '../stage.ts';

/** How the first channel differs from the last: levels over the balance band, then bias voltages of nodes that both have. */
export interface ChannelDifference {
  /** Hz of the levels, which come first. */
  readonly hz: Float64Array;
  /** Bare names of the nodes, which follow. */
  readonly nodes: readonly string[];
  /** dB for one unit of each number: 1 for a level, little for a bias. */
  readonly weights: Float64Array;
  /** First over last, dB and V, with these parts in the place of those that carry their designators; null without a bias. */
  of(parts: readonly Part[]): Float64Array | null;
}

/** A part alone bends a curve over an octave or more: between two of ten to the decade nothing stands out. */
const density = 10;

/**
 * What one percent of bias counts, dB: less than any ear or meter tells, so that a bias decides only between pieces whose curves are alike.
 */
const biasWeight = 0.001;

/** V below which a percent of a voltage is taken of this: what a bench meter reads to a percent. */
const leastVolts = 0.5;

export function channelDifference(stage: Stage, { balance }: Pick<Limits, 'balance'>): ChannelDifference {
  const { circuit, network, point } = stage;
  const [first, last] = [circuit.channels[0]?.name ?? '', circuit.channels.at(-1)?.name ?? ''];
  const hz = logFrequencies(balance.from, balance.to, density);
  const nodes = [...network.nodes.keys()]
    .filter((node) => node.endsWith(`@${first}`) && network.nodes.has(`${bareName(node)}@${last}`))
    .map(bareName);
  const percents = nodes.map(
    (node) => 100 / Math.max(Math.abs(nodeVolts(network, point, `${node}@${first}`)), leastVolts),
  );
  return {
    hz,
    nodes,
    weights: Float64Array.from([...hz].map(() => 1).concat(percents.map((percent) => biasWeight * percent))),
    of(parts) {
      const varied = parts.length === 0 ? stage : varyStage(stage, withParts(circuit, parts));
      if (varied === null) return null;
      const { gains } = solveResponse(varied.small, hz);
      const [over, under] = [gains[0]?.[0], gains.at(-1)?.at(-1)];
      const levels = [...hz].map((_, k) => levelAt(over, k) - levelAt(under, k));
      const volts = nodes.map(
        (node) =>
          nodeVolts(varied.network, varied.point, `${node}@${first}`) -
          nodeVolts(varied.network, varied.point, `${node}@${last}`),
      );
      return Float64Array.from([...levels, ...volts]);
    },
  };
}

function levelAt(gains: Float64Array | undefined, k: number): number {
  return 20 * Math.log10(Math.hypot(gains?.[2 * k] ?? NaN, gains?.[2 * k + 1] ?? NaN));
}

function withParts(circuit: Circuit, parts: readonly Part[]): Circuit {
  const byRef = new Map(parts.map((part) => [part.ref, part]));
  return { ...circuit, parts: circuit.parts.map((part) => byRef.get(part.ref) ?? part) };
}
