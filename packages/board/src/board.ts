import type { Circuit } from './circuit.ts';
import type { PartType } from './part-type.ts';
import type { Cartridge } from './schema/board-schema.ts';
import type { PartialLimits } from './schema/limits-schema.ts';
import type { BodySize, Seat } from './schema/part-schema.ts';

/** A board file, read: the circuit as drawn and what the file says beside it. */
export interface Board {
  readonly file: string;
  readonly title: string;
  /** `['mono']` where the file names no channels. */
  readonly channels: readonly string[];
  readonly channelsStated: boolean;
  /** At 25 °C. */
  readonly circuit: Circuit;
  /** Without a prototype, so that no name but the file's own is found in it. */
  readonly types: Readonly<Record<string, PartType>>;
  readonly cartridges: Readonly<Record<string, Cartridge>>;
  /** Only what the file writes. */
  readonly limits: PartialLimits;
  /** The leads at which the feedback loop is looked into, one for each channel; empty where the file names none. */
  readonly loops: readonly { readonly channel: string | null; readonly ref: string; readonly lead: string }[];
  /** Groups of designators whose parts were picked alike: a tolerance moves them together. */
  readonly matched: readonly (readonly string[])[];
  /** Where parts stand on the drawing, by designator: squares right of and below the input terminal. Empty where the file leaves it open. */
  readonly drawing: Readonly<Record<string, readonly [x: number, y: number]>>;
  /** By designator. */
  readonly seats: Readonly<Record<string, Seat>>;
  /** By designator. */
  readonly bodies: Readonly<Record<string, BodySize>>;
  /** The designators of each key under `parts:`, in the order of the file; those of one key are twins. */
  readonly positions: readonly (readonly string[])[];
}

/** The temperature at which datasheet figures hold and a board is computed unless a job says otherwise, K. */
export const drawnAmbient = 298.15;
