import { nodeVolts } from '@curvewright/network';
import type { Stage } from './stage.ts';

/** A node's bare name and its bias voltage. */
export interface NodeVolts {
  readonly node: string;
  readonly volts: number;
}

/** The full names of a channel's nodes, its own first, then what it shares with the others, without gnd and inner nodes. */
export function nodesOfChannel(stage: Stage, channel: string): readonly string[] {
  const all = [...stage.network.nodes.keys()];
  const own = all.filter((node) => node.endsWith(`@${channel}`));
  return [...own, ...all.filter((node) => !node.includes('@'))];
}

/** Bias of every node of a channel; shared nodes appear in each channel. */
export function channelNodes(stage: Stage, channel: string): readonly NodeVolts[] {
  return nodesOfChannel(stage, channel).map((node) => ({
    node: bareName(node),
    volts: nodeVolts(stage.network, stage.point, node),
  }));
}

/** Bias of every node of a channel, V by its full name. */
export function voltsByNode(stage: Stage, channel: string): ReadonlyMap<string, number> {
  const nodes = nodesOfChannel(stage, channel);
  return new Map(nodes.map((node) => [node, nodeVolts(stage.network, stage.point, node)]));
}

/** `out@left` → `out`. */
export function bareName(node: string): string {
  return node.split('@')[0]!;
}
