import type { Place } from './diagnostics.ts';
import type { PartType } from './part-type.ts';
import type { BodySize, Seat } from './schema/part-entry.ts';

/**
 * A node's full name: `gnd`, a shared node or rail by its bare name (`vcc`), or a channel's own node with its channel
 * (`out@left`). With no `channels` in the file, the one channel is called `mono` (`out@mono`).
 */
export type NodeName = string;

/** A board in one state (drawn, found or rebuilt), every channel written out, all values in SI units. */
export interface Circuit {
  readonly title: string;
  readonly channels: readonly Channel[];
  readonly rails: readonly Rail[];
  /** Nodes under `common:`, without `gnd` and the rails. */
  readonly common: readonly NodeName[];
  readonly parts: readonly Part[];
  /** Kelvin. */
  readonly ambient: number;
}

export interface Channel {
  readonly name: string;
  readonly input: NodeName;
  readonly output: NodeName;
  /** The load at the output node, in Ω and F; a silent one is absent. */
  readonly load: { readonly resistance?: number; readonly capacitance?: number };
}

export interface Rail {
  readonly node: NodeName;
  readonly volts: number;
  /** Ω between the ideal supply and the node; 0 where the file is silent. */
  readonly resistance: number;
  /** V rms of the fundamental. */
  readonly ripple?: number;
  /** Hz. */
  readonly rippleFrequency?: number;
  /** Amplitudes of the 2nd, 3rd … harmonic over the fundamental. */
  readonly harmonics?: readonly number[];
  readonly place: Place;
}

/** What every part has, whatever its kind. */
export interface PartCommon {
  /** One designator: `R101`, or `D103.1` for a member of a fitted string. */
  readonly ref: string;
  /** The designator of the board position this part sits in (`D103` for `D103.1`). */
  readonly position: string;
  /** The channel it belongs to; null for a part between shared nodes only, or one that joins two channels. */
  readonly channel: string | null;
  readonly place: Place;
  /** Fractions of the value, both positive; absent where the file is silent. */
  readonly tolerance?: { readonly minus: number; readonly plus: number };
  /** V for capacitors, W for resistors. */
  readonly rated?: number;
  /** The holes and the room of the position it stands in. */
  readonly seat?: Seat;
  /** The part's own size. */
  readonly body?: BodySize;
  /** True for a part that a job fits or adds; absent for one that was there before. */
  readonly fitted?: true;
}

export interface Resistor extends PartCommon {
  readonly kind: 'resistor';
  readonly build?: string;
  readonly ohms: number;
  readonly between: readonly [NodeName, NodeName];
  /** Excess noise, dB (IEC 60195). */
  readonly noiseIndex?: number;
}

export interface Capacitor extends PartCommon {
  readonly kind: 'capacitor';
  readonly build?: string;
  readonly farads: number;
  readonly plus: NodeName;
  readonly minus: NodeName;
  /** True where the file wrote plus and minus, false for `between`. */
  readonly polarised: boolean;
  /** Ω. */
  readonly esr?: number;
  /** Hz at which the ESR was read, where the file says so. */
  readonly esrAt?: number;
  /** Ω across the leads. */
  readonly leakage?: number;
  /** tan δ. */
  readonly loss?: number;
  /** A rms that it is rated for. */
  readonly rippleCurrent?: number;
}

export interface Inductor extends PartCommon {
  readonly kind: 'inductor';
  readonly henries: number;
  readonly ohms: number;
  readonly between: readonly [NodeName, NodeName];
}

/** Between the ends lies `ohms`; the wiper stands at the fraction `turn` from the first end. */
export interface Trimmer extends PartCommon {
  readonly kind: 'trimmer';
  readonly ohms: number;
  readonly turn: number;
  readonly between: readonly [NodeName, NodeName];
  /** Absent: a variable resistor of ohms × turn between the two nodes. */
  readonly wiper?: NodeName;
}

/** The pole is joined to the node of the position it stands at. */
export interface Switch extends PartCommon {
  readonly kind: 'switch';
  readonly pole: NodeName;
  readonly positions: Readonly<Record<string, NodeName>>;
  readonly at: string;
}

/** A part whose physics comes from a type: `leads` maps the type's lead names to nodes. */
export interface TypedPart extends PartCommon {
  readonly kind: 'typed';
  readonly typeName: string;
  readonly type: PartType;
  /** bipolar: collector base emitter; diode, zener: anode cathode; jfet: drain gate source; triode: anode grid cathode; opamp: plus minus out. */
  readonly leads: Readonly<Record<string, NodeName>>;
  /** Op-amps: positive and negative supply nodes; absent: without limits. */
  readonly rails?: readonly [NodeName, NodeName];
  /** The lead that stands in each hole of the seat, where the job says so; the nodes of `leads` follow from it. */
  readonly inserted?: string;
}

export type Part = Resistor | Capacitor | Inductor | Trimmer | Switch | TypedPart;
