export interface PageOptions {
  /** Cells of the terminal; a page uses 60 to 110 of them. */
  readonly width: number;
  readonly colour: boolean;
}

/** The page's own measure: wider lines are hard to read, narrower ones hold no table. */
export function pageWidth({ width }: PageOptions): number {
  return Math.min(110, Math.max(60, Math.floor(width)));
}
