import type { NodeName } from '@curvewright/board';
import type { PartBias, PartShares } from '@curvewright/verify';
import type { PlateOptions } from '../figure/plate.ts';
import type { Only } from './piece.ts';

/** What a drawing shows beside the parts and their wires. */
export interface StageDrawingOptions {
  /** Absent: the whole circuit. */
  readonly only?: Only | undefined;
  /** Where the middles of parts stand, in squares right of and below the input terminal; all others find their place. */
  readonly positions?: Readonly<Record<string, readonly [x: number, y: number]>> | undefined;
  /** Bias voltages, V by node. */
  readonly volts?: ReadonlyMap<NodeName, number> | undefined;
  /** The bias of parts whose currents are shown. */
  readonly currents?: readonly PartBias[] | undefined;
  /** What the parts are shaded by. */
  readonly shares?: PartShares | undefined;
}

export interface StagePlateOptions extends StageDrawingOptions, Pick<PlateOptions, 'ink' | 'titled'> {
  readonly title: string;
}
