import type { Circuit, NodeName } from '@curvewright/board';
import { arrange } from './arrange.ts';
import { channelNet, type ChannelNet } from './channel-net.ts';
import type { CaptionLine } from './captions.ts';
import type { Only, Piece } from './piece.ts';
import type { Join, Plan } from './plan.ts';
import { around } from './room.ts';
import { route, type Routed } from './route.ts';
import type { Scene, Spot } from './scene.ts';
import { wiresOf } from './wires.ts';

export interface SceneRequest {
  readonly only: Only | null;
  /** Where the middles of parts are to stand, in squares right of and below the input terminal. */
  readonly positions: ReadonlyMap<string, Spot>;
  readonly captionOf: (piece: Piece) => readonly CaptionLine[];
}

/** Squares between parts side by side, at first and where the wires find no way. */
const airs = [1.4, 2.4, 3.4, 5.4];

/** One channel of a circuit as a drawing. */
export function stageScene(circuit: Circuit, channel: string, request: SceneRequest): Scene {
  const net = channelNet(circuit, channel, request.only);
  let last: { readonly plan: Plan; readonly routed: Routed } | null = null;
  for (const air of airs) {
    const plan = arrange({ net, air, captionOf: request.captionOf, wanted: request.positions });
    const routed = routePlan(plan, net);
    last = { plan, routed };
    if (routed.open === 0) break;
  }
  if (last === null) throw new RangeError('no drawing was tried');
  return sceneOf(last.plan, last.routed);
}

function routePlan(plan: Plan, net: ChannelNet): Routed {
  const nodes = new Map<NodeName, Spot[]>();
  for (const { leads } of plan.placed.values())
    for (const { node, at } of leads) if (net.role(node) === 'signal') nodes.set(node, [...(nodes.get(node) ?? []), at]);
  for (const { kind, node, at } of plan.marks)
    if (kind === 'input' || kind === 'output') nodes.get(node)?.push(at);
  const joins: readonly Join[] = [...[...nodes].map(([node, spots]) => ({ node, spots })), ...plan.joins];
  const obstacles = [
    ...[...plan.placed.values()].map(({ body }) => body),
    ...plan.marks.map(({ body }) => body),
    ...plan.texts.map(({ box }) => ({ left: box.left - 0.3, right: box.right + 0.3, top: box.top - 0.2, bottom: box.bottom + 0.2 })),
  ];
  return route(joins, obstacles, []);
}

function sceneOf(plan: Plan, routed: Routed): Scene {
  const { wires, dots, crossings } = wiresOf(routed, [...plan.placed.values()], plan.marks);
  const parts = [...plan.placed.values()];
  const frame = around([
    ...parts.map(({ body }) => body),
    ...plan.marks.map(({ body }) => body),
    ...plan.texts.map(({ box }) => box),
    ...wires.map(({ from, to }) => around([from, to].map(({ x, y }) => ({ left: x, right: x, top: y, bottom: y })))),
  ]);
  return { frame, parts, marks: plan.marks, wires, dots, texts: plan.texts, crossings };
}
