import type { State } from '@curvewright/board';
import type { FitName, FitUnit } from './fit/fit-row.ts';
import type { FigureName, Judged, Level } from './judge.ts';

/** One judged figure of one state, or one question of whether a part fits there, with what makes it so and what to do next. */
export interface Finding {
  readonly level: Level;
  /** The limit's key, or that of a question of fit. */
  readonly what: FigureName | FitName;
  /** The part that moves the figure most, or the one that is asked about. */
  readonly ref: string;
  readonly state: State;
  /** The channel's name; null where both channels make the figure together. */
  readonly channel: string | null;
  /** True where the verdict rests on it. */
  readonly counts: boolean;
  readonly value: number;
  /** Distance to the good limit, positive inside it; NaN where a part's own limit is not stated. */
  readonly margin: number;
  readonly unit: Judged['unit'] | FitUnit;
  /** Where the value was found: `at 20 Hz`; of a question of fit, which one. */
  readonly where: string;
  /** What a part is allowed, in words: `6.3 V rated`. Absent where the verdict's limits say it. */
  readonly bound?: string;
  readonly cause: string;
  readonly next: string;
}
