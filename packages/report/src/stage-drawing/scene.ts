import type { NodeName } from '@curvewright/board';
import type { SymbolKind } from './symbol-kind.ts';

/** In squares of the drawing, x to the right and y down from the input terminal. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** In squares of the drawing. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Pixels of a square's side: wires and leads lie on its corners. */
export const square = 10;

/** How a symbol stands: so many quarter turns clockwise, after being turned over about its horizontal axis where `flipped`. */
export interface Turn {
  readonly quarters: 0 | 1 | 2 | 3;
  readonly flipped: boolean;
}

export const asDrawn: Turn = { quarters: 0, flipped: false };

/** A part's lead: where it ends, and the node that has to reach it there. */
export interface Lead {
  readonly lead: string;
  readonly node: NodeName;
  readonly at: Spot;
}

/** A part on the drawing. */
export interface PlacedPart {
  readonly ref: string;
  readonly kind: SymbolKind;
  /** The position that a switch stands at; empty for any other part. */
  readonly setting: string;
  /** Where the symbol's own origin stands. */
  readonly at: Spot;
  readonly turn: Turn;
  readonly leads: readonly Lead[];
  /** Covers the symbol without the ends of its leads: no wire and no text may lie in it. */
  readonly body: Box;
}

/** What ends a wire without a part: all marks of one node are joined to each other. */
export interface Mark {
  readonly kind: 'common' | 'rail above' | 'rail below' | 'input' | 'output';
  readonly node: NodeName;
  readonly at: Spot;
  readonly body: Box;
}

/** A straight piece of wire along one axis. Wires of one node meet at their ends; where they only cross, they are apart. */
export interface Wire {
  readonly node: NodeName;
  readonly from: Spot;
  readonly to: Spot;
}

/** Where three or more ways of one node meet. */
export interface Dot {
  readonly node: NodeName;
  readonly at: Spot;
}

/** A line of text; `at` is the end of its base line that the anchor names. */
export interface Text {
  readonly text: string;
  readonly at: Spot;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly box: Box;
  readonly what: 'ref' | 'value' | 'current' | 'share' | 'node' | 'volts';
  /** The designator or the node that it belongs to. */
  readonly of: string;
}

/** A drawing as plain geometry. */
export interface Scene {
  /** Holds everything. */
  readonly frame: Box;
  readonly parts: readonly PlacedPart[];
  readonly marks: readonly Mark[];
  readonly wires: readonly Wire[];
  readonly dots: readonly Dot[];
  readonly texts: readonly Text[];
  /** Places where two wires cross without meeting. */
  readonly crossings: readonly Spot[];
}
