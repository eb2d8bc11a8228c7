import { leadsOf, type Circuit, type NodeName, type Part } from '@curvewright/board';
import { pieceOf, type Only, type Piece } from './piece.ts';
import { supplyNodes } from './supply-nodes.ts';

/** What a node is to the drawing: `signal` nodes are wired, all others carry their name at every lead that is on them. */
export type NodeRole = 'common' | 'rail above' | 'rail below' | 'signal';

/** One channel's circuit as it will be drawn. */
export interface ChannelNet {
  readonly pieces: readonly Piece[];
  readonly input: NodeName;
  readonly output: NodeName;
  readonly role: (node: NodeName) => NodeRole;
  readonly rails: readonly NodeName[];
  /** All rails are negative and stand above common all the same. */
  readonly isUpsideDown: boolean;
  /** Signal nodes that other channels share. */
  readonly shared: ReadonlySet<NodeName>;
  /** Parts of the channel that the chosen circuit leaves out. */
  readonly leftOut: readonly string[];
}

const gnd = 'gnd';

/** Throws where the circuit has no such channel. */
export function channelNet(circuit: Circuit, channel: string, only: Only | null): ChannelNet {
  const ends = circuit.channels.find(({ name }) => name === channel);
  if (ends === undefined) throw new RangeError(`no channel ${channel}`);
  const rails = new Set(circuit.rails.map(({ node }) => node));
  const node = (name: NodeName): NodeName => (only?.kind === 'ac' && rails.has(name) ? gnd : name);
  const all = circuit.parts.filter((part) => isDrawn(part, channel));
  const kept = only?.kind === 'dc' ? carryingBias(all, circuit, channel) : all;
  const pieces = kept.map((part) => pieceOf(part, only, node)).filter((piece) => !isAllOn(piece, gnd));
  const supplies = supplyNodes(all, circuit);
  const volts = new Map(circuit.rails.map((rail) => [rail.node, rail.volts]));
  const hasAbove = circuit.rails.some((rail) => rail.volts > 0);
  const role = (name: NodeName): NodeRole => {
    if (name === gnd) return 'common';
    const rail = supplies.get(name);
    if (rail !== undefined) return hasAbove && (volts.get(rail) ?? 0) < 0 ? 'rail below' : 'rail above';
    return isOfChannel(name, channel) ? 'signal' : 'rail above';
  };
  const drawn = new Set(pieces.map(({ ref }) => ref));
  return {
    pieces,
    input: ends.input,
    output: ends.output,
    role,
    rails: only?.kind === 'ac' ? [] : [...rails],
    isUpsideDown: circuit.rails.length > 0 && !hasAbove,
    shared: new Set(circuit.channels.length > 1 ? circuit.common.filter((name) => role(name) === 'signal') : []),
    leftOut: all.map(({ ref }) => ref).filter((ref) => !drawn.has(ref)),
  };
}

/** A channel's own parts and those that all channels share; of a part that joins two channels, each draws its own end. */
function isDrawn(part: Part, channel: string): boolean {
  if (part.channel !== null) return part.channel === channel;
  const own = Object.values(leadsOf(part)).filter((node) => node.includes('@'));
  return own.length === 0 || own.some((node) => isOfChannel(node, channel));
}

function isOfChannel(node: NodeName, channel: string): boolean {
  return !node.includes('@') || node.endsWith(`@${channel}`);
}

function isAllOn({ leads }: Piece, node: NodeName): boolean {
  return leads.every((lead) => lead.node === node);
}

/** Capacitors are open; what then hangs in the air by one lead carries no current either. */
function carryingBias(parts: readonly Part[], circuit: Circuit, channel: string): readonly Part[] {
  let kept = parts.filter(({ kind }) => kind !== 'capacitor');
  const held = new Set([gnd, ...circuit.rails.map(({ node }) => node)]);
  for (const { name, input, output } of circuit.channels) if (name === channel) held.add(input).add(output);
  for (;;) {
    const count = new Map<NodeName, number>();
    for (const part of kept)
      for (const node of Object.values(leadsOf(part))) count.set(node, (count.get(node) ?? 0) + 1);
    const next = kept.filter((part) => {
      const isActive = part.kind === 'typed' && part.type.kind !== 'diode' && part.type.kind !== 'zener';
      const isShared = (node: NodeName): boolean => circuit.common.includes(node);
      return (
        isActive ||
        Object.values(leadsOf(part)).every((node) => held.has(node) || isShared(node) || (count.get(node) ?? 0) > 1)
      );
    });
    if (next.length === kept.length) return kept;
    kept = next;
  }
}
