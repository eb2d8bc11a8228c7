import { describePart, leadsOf, type NodeName, type Part } from '@curvewright/board';
import { quantity } from '../numbers.ts';
import type { SymbolKind } from './symbol-kind.ts';

/** Which circuit of the channel is drawn: all of it, what carries the bias, or what carries the signal. */
export type Only = { readonly kind: 'dc' } | { readonly kind: 'ac'; readonly hz: number };

/** A part as it will be drawn, before it has a place. */
export interface Piece {
  readonly ref: string;
  readonly kind: SymbolKind;
  /** In the order of its symbol's leads. */
  readonly leads: readonly { readonly lead: string; readonly node: NodeName }[];
  /** What stands beside the designator: a value, a type, a reactance. */
  readonly value: string;
  /** A switch's positions in order, and the one it stands at. */
  readonly positions: readonly string[];
  readonly setting: string;
}

/** `node`: what a node of the board is called in the circuit that is drawn. */
export function pieceOf(part: Part, only: Only | null, node: (name: NodeName) => NodeName): Piece {
  const rails = part.kind === 'typed' ? (part.rails ?? null) : null;
  const leads = [
    ...Object.entries(leadsOf(part)),
    ...(rails === null ? [] : [['rail above', rails[0]] as const, ['rail below', rails[1]] as const]),
  ].map(([lead, at]) => ({ lead, node: node(at) }));
  return {
    ref: part.ref,
    kind: kindOf(part),
    leads,
    value: valueOf(part, only),
    positions: part.kind === 'switch' ? Object.keys(part.positions) : [],
    setting: part.kind === 'switch' ? part.at : '',
  };
}

function kindOf(part: Part): SymbolKind {
  switch (part.kind) {
    case 'resistor':
    case 'inductor':
    case 'switch':
      return part.kind;
    case 'capacitor':
      return part.polarised ? 'polarised capacitor' : 'capacitor';
    case 'trimmer':
      return part.wiper === undefined ? 'variable resistor' : 'trimmer';
    case 'typed':
      return part.type.kind;
  }
}

function valueOf(part: Part, only: Only | null): string {
  const { PI } = Math;
  switch (part.kind) {
    case 'resistor':
      return part.ohms === 0 ? 'link' : quantity(part.ohms, 'Ω');
    case 'capacitor':
      return only?.kind === 'ac' ? quantity(1 / (2 * PI * only.hz * part.farads), 'Ω') : quantity(part.farads, 'F');
    case 'inductor':
      if (only?.kind === 'ac') return quantity(2 * PI * only.hz * part.henries, 'Ω');
      return only?.kind === 'dc' ? quantity(part.ohms, 'Ω') : quantity(part.henries, 'H');
    case 'trimmer':
    case 'switch':
    case 'typed':
      return describePart(part);
  }
}
