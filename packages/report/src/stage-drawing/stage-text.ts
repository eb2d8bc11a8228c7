import type { Circuit, NodeName } from '@curvewright/board';
import { frequency, volts as voltsText } from '../numbers.ts';
import { captionLines } from './caption-lines.ts';
import { channelNet } from './channel-net.ts';
import type { StageDrawingOptions } from './options.ts';
import type { Piece } from './piece.ts';
import { bareNode } from './marks.ts';
import { asDrawn } from './scene.ts';
import { signalPath } from './signal-path.ts';

/** The drawing in sentences: the way of the signal, every part with the nodes of its leads in that order, voltages, what is left out. */
export function stageDrawingText(circuit: Circuit, channel: string, options: StageDrawingOptions): readonly string[] {
  const net = channelNet(circuit, channel, options.only ?? null);
  const path = signalPath(net);
  const way = path.flatMap(({ node, through }) => [...(through === null ? [] : [through.piece.ref]), bareNode(node)]);
  const order = new Map<NodeName, number>(path.map(({ node }, n) => [node, n]));
  const rank = ({ leads }: Piece): number => Math.min(...leads.map(({ node }) => order.get(node) ?? path.length));
  const { only, volts, shares } = options;
  const nodes = [...new Set(net.pieces.flatMap(({ leads }) => leads.map(({ node }) => node)))];
  const biased = nodes.flatMap((node) => {
    const bias = volts?.get(node);
    return bias === undefined || net.role(node) === 'common' ? [] : [`${bareNode(node)} ${voltsText(bias)} V`];
  });
  return [
    ...(only?.kind === 'dc' ? ['The circuit of the bias: capacitors are open.'] : []),
    ...(only?.kind === 'ac'
      ? [`The circuit of the signal: rails on common, reactances at ${frequency(only.hz)}.`]
      : []),
    `Signal path: ${way.join(' – ')}.`,
    ...net.pieces
      .toSorted((a, b) => rank(a) - rank(b))
      .map((piece) => `${nameOf(piece, options)}: ${leadWords(piece)}.`),
    ...(biased.length === 0 ? [] : [`Bias: ${biased.join(', ')}.`]),
    ...(shares === undefined ? [] : [`Percentages are shares in ${shares.what}.`]),
    ...(net.shared.size === 0 ? [] : [`Shared with the other channels: ${[...net.shared].join(', ')}.`]),
    ...(net.leftOut.length === 0 ? [] : [`Left out: ${net.leftOut.join(', ')}.`]),
  ];
}

/** What each part is called, by designator: `R101, 100 kΩ`. */
export function namesOfParts(
  circuit: Circuit,
  channel: string,
  options: StageDrawingOptions,
): ReadonlyMap<string, string> {
  const { pieces } = channelNet(circuit, channel, options.only ?? null);
  return new Map(pieces.map((piece) => [piece.ref, nameOf(piece, options)]));
}

/** Arrows of currents lie along the drawing, and are none here. */
function nameOf(piece: Piece, options: StageDrawingOptions): string {
  return captionLines(piece, asDrawn, options)
    .map(({ text }) => text.replace('→ ', '').replace('← ', '−'))
    .join(', ');
}

function leadWords({ leads, kind }: Piece): string {
  const [first, second, third] = leads;
  const isUnnamed = third === undefined && first?.lead === '1';
  if (isUnnamed && second !== undefined) return `${kind} between ${bareNode(first.node)} and ${bareNode(second.node)}`;
  return `${kind}, ${leads.map(({ lead, node }) => `${lead} on ${bareNode(node)}`).join(', ')}`;
}
