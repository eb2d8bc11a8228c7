import type { ComponentType } from 'preact';

/** What has its place on the page and is built beside it; a room that is not there leaves no trace. All read the session. */
export interface Rooms {
  /** Fig. 1, the deviation of every state. */
  readonly MainFigure?: ComponentType;
  /** The other figures, small; one can be enlarged. */
  readonly SmallFigures?: ComponentType;
  /** The small figure of one row. */
  readonly RowFigure?: ComponentType<{ readonly refs: readonly string[] }>;
  /** A job, a board or another file as text. */
  readonly TextView?: ComponentType<{ readonly path: string }>;
}
