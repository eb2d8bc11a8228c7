import type { NodeName } from '@curvewright/board';
import type { Device, OpAmp } from '@curvewright/devices';

/** Index of an unknown of the circuit equations; `common` stands for gnd, which has none. */
export type Unknown = number;
export const common: Unknown = -1;

/** S between two nodes. */
export interface Conductance {
  readonly ref: string;
  readonly a: Unknown;
  readonly b: Unknown;
  readonly siemens: number;
}

/** v(a) − v(b) − ohms·i − henries·di/dt = volts, with its own unknown i that flows from a through the branch to b. */
export interface Branch {
  readonly ref: string;
  readonly a: Unknown;
  readonly b: Unknown;
  readonly current: Unknown;
  readonly volts: number;
  readonly ohms: number;
  readonly henries: number;
  /** True for supply rails: these are what a start-up raises. */
  readonly rail: boolean;
}

/** Admittance ω·farads·(j + loss) between two nodes. */
export interface Capacitance {
  readonly ref: string;
  readonly a: Unknown;
  readonly b: Unknown;
  readonly farads: number;
  readonly loss: number;
}

export interface PlacedDevice {
  readonly ref: string;
  readonly device: Device;
  /** One unknown for each of the device's leads. */
  readonly leads: readonly Unknown[];
}

/** Its unknowns: `drive`, the output voltage it strives for, and `current`, which flows from the output node into it. */
export interface PlacedAmplifier {
  readonly ref: string;
  readonly model: OpAmp;
  readonly plus: Unknown;
  readonly minus: Unknown;
  readonly out: Unknown;
  readonly rails: readonly [Unknown, Unknown] | null;
  readonly drive: Unknown;
  readonly current: Unknown;
}

/** What an unknown is, for messages: never an index. */
export type UnknownName =
  | { readonly kind: 'node'; readonly node: NodeName }
  | { readonly kind: 'inner node'; readonly ref: string }
  | { readonly kind: 'current'; readonly ref: string }
  | { readonly kind: 'drive'; readonly ref: string };

/** The generator that stands at a channel's input node, at 0 V for the bias: series Ω and H, F across the input. */
export interface Source {
  readonly resistance: number;
  readonly inductance: number;
  readonly capacitance: number;
}

export const idealSource: Source = { resistance: 0, inductance: 0, capacitance: 0 };
