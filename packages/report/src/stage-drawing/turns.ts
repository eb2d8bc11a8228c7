import type { NodeName } from '@curvewright/board';
import type { ChannelNet } from './channel-net.ts';
import type { Piece } from './piece.ts';
import type { Turn } from './scene.ts';
import { span } from './symbols.ts';

/** A part with two leads so turned that the one on a node is the left one. */
export function lying({ leads }: Piece, node: NodeName): Turn {
  return { quarters: leads[0]?.node === node ? 0 : 2, flipped: false };
}

/** A part with two leads so turned that the one on a node is the upper one, or the lower one. */
export function upright({ leads }: Piece, node: NodeName, isUpper: boolean): Turn {
  return { quarters: (leads[0]?.node === node) === isUpper ? 1 : 3, flipped: false };
}

/** Squares from the left end of a lying part to its origin. */
export function left({ turn }: { readonly turn: Turn }): number {
  return turn.quarters === 2 ? span : 0;
}

/** Current flows downwards in every stage: a p-type part between rails above and common stands on its head. */
export function standing({ kind }: Piece, { isUpsideDown }: ChannelNet): Turn {
  const isP = kind === 'pnp' || kind === 'jfet-p';
  const isN = kind === 'npn' || kind === 'jfet-n';
  if (kind === 'trimmer') return { quarters: 1, flipped: true };
  return { quarters: 0, flipped: (isP && !isUpsideDown) || (isN && isUpsideDown) };
}
