import type { Place } from './diagnostics.ts';
import type { FaultName, SwapEntry } from './schema/swap-schema.ts';

/** The three states of a board that can be computed. */
export type State = 'drawn' | 'found' | 'rebuilt';

/** A part as a job writes it for a position of the board, with the places of its own keys. */
export interface SwapPart {
  readonly entry: SwapEntry;
  readonly place: Place;
  readonly keyPlaces: Readonly<Record<string, Place>>;
}

export interface PulledPart extends SwapPart {
  readonly faults: readonly FaultName[];
}

/** What goes into a position: one part, parts in series (first at the anode or plus side), parts side by side, or nothing. */
export type Fit =
  | { readonly how: 'single'; readonly part: SwapPart }
  | { readonly how: 'series' | 'parallel'; readonly parts: readonly SwapPart[] }
  | { readonly how: 'none' };
