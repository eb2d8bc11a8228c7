import type { Circuit, NodeName } from '@curvewright/board';
import { volts as voltsText } from '../numbers.ts';
import { arrange } from './arrange.ts';
import { captionLines } from './caption-lines.ts';
import { channelNet, type ChannelNet } from './channel-net.ts';
import { placeLabels, type Label } from './labels.ts';
import type { StageDrawingOptions } from './options.ts';
import { bareNode } from './marks.ts';
import type { Join } from './plan.ts';
import { standingOf, type Standing } from './standing.ts';
import { around } from './room.ts';
import { route, type Routed } from './route.ts';
import type { Scene, Spot } from './scene.ts';
import { wiresOf } from './wires.ts';

/** Squares between parts side by side, at first and where the wires find no way. */
const airs = [1.4, 2.4, 3.4, 5.4, 8.4];

/** Squares that the name of a node and its volts take. */
const labelRoom = 6;

/** One channel of a circuit as geometry. Throws where the circuit has no such channel. */
export function stageScene(circuit: Circuit, channel: string, options: StageDrawingOptions): Scene {
  const only = options.only ?? null;
  const net = channelNet(circuit, channel, only);
  // The circuit of the bias keeps the places of the whole one, so that the two can be compared.
  const placing = only?.kind === 'dc' ? channelNet(circuit, channel, null) : net;
  const drawn = new Set(net.pieces.map(({ ref }) => ref));
  const wanted = new Map(Object.entries(options.positions ?? {}).map(([ref, [x, y]]) => [ref, { x, y }]));
  const nodeRoom = options.volts === undefined ? 0 : labelRoom;
  const tries = airs.values();
  for (let air = tries.next(); ;) {
    const plan = arrange({
      net: placing,
      air: air.value ?? 0,
      wanted,
      nodeRoom,
      captionOf: (piece, turn) => captionLines(piece, turn, options),
    });
    const standing = standingOf(plan, (ref) => drawn.has(ref));
    const routed = route(joinsOf(standing, net), obstaclesOf(standing));
    air = tries.next();
    if (routed.open === 0 || air.done) return sceneOf(standing, routed, labelsOf(net, options));
  }
}

/** What each wire has to join: all leads of a signal node, and of the others what stands beside its mark. */
function joinsOf(plan: Standing, net: ChannelNet): readonly Join[] {
  const nodes = new Map<NodeName, Spot[]>();
  const add = (node: NodeName, at: Spot): void => void nodes.set(node, [...(nodes.get(node) ?? []), at]);
  for (const { leads } of plan.parts) for (const { node, at } of leads) if (net.role(node) === 'signal') add(node, at);
  for (const { kind, node, at } of plan.marks) if (kind === 'input' || kind === 'output') add(node, at);
  return [...[...nodes].map(([node, spots]) => ({ node, spots })), ...plan.joins];
}

function obstaclesOf({ parts, marks, texts }: Standing): Parameters<typeof route>[1] {
  return [
    ...[...parts, ...marks].map(({ body }) => body),
    ...texts.map(({ box: { left, right, top, bottom } }) => ({
      ...{ left: left - 0.3, right: right + 0.3 },
      ...{ top: top - 0.2, bottom: bottom + 0.2 },
    })),
  ];
}

/** Volts at the nodes, and which nodes both channels share. */
function labelsOf(net: ChannelNet, { volts }: StageDrawingOptions): readonly Label[] {
  const nodes = [...new Set(net.pieces.flatMap(({ leads }) => leads.map(({ node }) => node)))];
  return nodes.flatMap((node): readonly Label[] => {
    const bias = volts?.get(node);
    const isSignal = net.role(node) === 'signal';
    const words = [
      ...(isSignal && (bias !== undefined || net.shared.has(node)) ? [bareNode(node)] : []),
      ...(bias === undefined || net.role(node) === 'common' ? [] : [`${voltsText(bias)} V`]),
      ...(net.shared.has(node) ? ['(shared)'] : []),
    ];
    return words.length === 0 ? [] : [{ node, text: words.join(' '), what: bias === undefined ? 'node' : 'volts' }];
  });
}

function sceneOf({ parts, marks, texts: written }: Standing, routed: Routed, labels: readonly Label[]): Scene {
  const { wires, dots, crossings } = wiresOf(routed, parts, marks);
  const texts = [...written, ...placeLabels({ parts, marks, wires, dots, texts: written }, labels)];
  const points = wires.flatMap(({ from, to }) => [from, to]);
  const frame = around([
    ...[...parts, ...marks].map(({ body }) => body),
    ...texts.map(({ box }) => box),
    ...points.map(({ x, y }) => ({ left: x, right: x, top: y, bottom: y })),
  ]);
  return { frame, parts, marks, wires, dots, texts, crossings };
}
