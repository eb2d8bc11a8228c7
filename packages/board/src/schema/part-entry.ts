/** The holes and the room on the board; lengths in metres. */
export interface Seat {
  /** Lead letters left to right, from the component side with the printed flat towards the reader. */
  readonly holes?: string;
  /** The pitches that fit. */
  readonly pitch?: readonly number[];
  readonly height?: number;
  readonly diameter?: number;
}

/** The size of a part, in metres. */
export interface BodySize {
  readonly pitch?: number;
  readonly height?: number;
  readonly diameter?: number;
}

/** A leakage as written: Ω across the leads, or A at the rated volts. */
export type Leakage = { readonly ohms: number } | { readonly amps: number };

/** What every entry may carry. */
export interface EntryCommon {
  readonly seat?: Seat;
  readonly body?: BodySize;
}

/** An entry with a value: Ω, F or H. */
export interface ValuedEntry extends EntryCommon {
  readonly value: number;
  readonly tolerance?: { readonly minus: number; readonly plus: number };
}

export interface ResistorEntry extends ValuedEntry {
  readonly kind: 'resistor';
  readonly build?: string;
  readonly rated?: number;
  readonly noise_index?: number;
  readonly between: readonly string[];
}

export interface CapacitorEntry extends ValuedEntry {
  readonly kind: 'capacitor';
  readonly build?: string;
  readonly rated?: number;
  readonly esr?: { readonly value: number; readonly at?: number };
  readonly leakage?: Leakage;
  readonly loss?: number;
  /** A rms. */
  readonly ripple_current?: number;
  /** Either `plus` and `minus`, or `between`. */
  readonly plus?: string;
  readonly minus?: string;
  readonly between?: readonly string[];
}

export interface InductorEntry extends ValuedEntry {
  readonly kind: 'inductor';
  readonly resistance?: number;
  readonly between: readonly string[];
}

export interface TrimmerEntry extends ValuedEntry {
  readonly kind: 'trimmer';
  readonly rated?: number;
  readonly turn: number;
  readonly between: readonly string[];
  readonly wiper?: string;
}

export interface SwitchEntry extends EntryCommon {
  readonly kind: 'switch';
  readonly pole: string;
  readonly positions: Readonly<Record<string, string>>;
  readonly at: string;
}

export interface TypedEntry extends EntryCommon {
  readonly type: string;
  readonly rails?: readonly string[];
  /** The node of each lead written, by the lead's name. */
  readonly leads: Readonly<Record<string, string>>;
}

/** A part as written under `parts:` or `added:`, values in SI units, nodes as spelled. */
export type PartEntry = ResistorEntry | CapacitorEntry | InductorEntry | TrimmerEntry | SwitchEntry | TypedEntry;
