import type { NodeName } from '@curvewright/board';
import type { ChannelNet } from './channel-net.ts';
import type { Piece } from './piece.ts';

/** A node on the way of the signal, and what leads to it from the one before; the first has nothing before it. */
export interface PathStep {
  readonly node: NodeName;
  readonly through: { readonly piece: Piece; readonly enter: string; readonly leave: string } | null;
}

interface Way {
  readonly piece: Piece;
  readonly enter: string;
  readonly leave: string;
  readonly from: NodeName;
  readonly to: NodeName;
  readonly cost: number;
}

/** From the input to the output, in the direction that active parts amplify; the input alone where no way leads on. */
export function signalPath(net: ChannelNet): readonly PathStep[] {
  const ways = net.pieces.flatMap((piece) => waysThrough(piece, net));
  const reached = new Map<NodeName, { readonly cost: number; readonly by: Way | null }>([
    [net.input, { cost: 0, by: null }],
  ]);
  // Bellman and Ford's relaxation: the circuits are small, and ties go to the board's own order.
  for (let changed = true; changed;) {
    changed = false;
    for (const way of ways) {
      const before = reached.get(way.from);
      if (before === undefined) continue;
      const cost = before.cost + way.cost;
      if (cost >= (reached.get(way.to)?.cost ?? Infinity)) continue;
      reached.set(way.to, { cost, by: way });
      changed = true;
    }
  }
  const steps: PathStep[] = [];
  for (let node: NodeName | null = reached.has(net.output) ? net.output : net.input; node !== null;) {
    const by: Way | null = reached.get(node)?.by ?? null;
    steps.unshift({ node, through: by === null ? null : { piece: by.piece, enter: by.enter, leave: by.leave } });
    node = by === null ? null : by.from;
  }
  return steps;
}

function waysThrough(piece: Piece, net: ChannelNet): readonly Way[] {
  const nodeOf = (lead: string): NodeName => piece.leads.find((each) => each.lead === lead)?.node ?? '';
  const way = (enter: string, leave: string, cost: number): readonly Way[] => {
    const [from, to] = [nodeOf(enter), nodeOf(leave)];
    const isSignal = net.role(from) === 'signal' && net.role(to) === 'signal' && from !== to;
    return isSignal ? [{ piece, enter, leave, from, to, cost }] : [];
  };
  const amplifier = (control: string, output: string, other: string): readonly Way[] => {
    // A follower gives its signal from the lead that is the input of its neighbour's feedback anywhere else.
    const follows = net.role(nodeOf(output)) !== 'signal';
    return [...way(control, output, 1), ...way(other, output, 2), ...way(control, other, follows ? 1 : feedbackCost)];
  };
  switch (piece.kind) {
    case 'npn':
    case 'pnp':
      return amplifier('base', 'collector', 'emitter');
    case 'jfet-n':
    case 'jfet-p':
      return amplifier('gate', 'drain', 'source');
    case 'triode':
      return amplifier('grid', 'anode', 'cathode');
    case 'opamp':
      return [...way('plus', 'out', 1), ...way('minus', 'out', 1)];
    default:
      return piece.leads.flatMap((first) =>
        piece.leads.flatMap((second) => (first === second ? [] : way(first.lead, second.lead, 1.5))),
      );
  }
}

/** More than any way forward through a stage, so that the feedback network is no shortcut. */
const feedbackCost = 6;
