import type { State } from '@curvewright/board';
import type { FigureName, Judged, Level } from './judge.ts';

/** One judged figure of one state, with what makes it so and what to do next. */
export interface Finding {
  readonly level: Level;
  /** The limit's key. */
  readonly what: FigureName;
  /** The part that moves the figure most. */
  readonly ref: string;
  readonly state: State;
  /** The channel's name; null where both channels make the figure together. */
  readonly channel: string | null;
  /** True where the verdict rests on it. */
  readonly counts: boolean;
  readonly value: number;
  /** Distance to the good limit, positive inside it. */
  readonly margin: number;
  readonly unit: Judged['unit'];
  /** Where the value was found: `at 20 Hz`. */
  readonly where: string;
  readonly cause: string;
  readonly next: string;
}
