import type { PolePart, PolesAnswer } from './poles.ts';

/** What the limit on stability speaks of. */
export interface StabilityFigures {
  readonly stable: boolean;
  /** Of the worst pair, and where it is; null without a pair, or where a pair swings without damping. */
  readonly q: number | null;
  readonly hz: number | null;
  readonly parts: readonly PolePart[];
  /** Per channel, where the board names a break point. */
  readonly margins: readonly {
    readonly channel: string | null;
    readonly lead: string;
    readonly marginDeg: number | null;
  }[];
}

export function stabilityFigures({ stable, worst, loops }: PolesAnswer): StabilityFigures {
  return {
    stable,
    q: worst?.q ?? null,
    hz: worst?.hz ?? null,
    parts: worst?.parts ?? [],
    margins: loops.map(({ channel, lead, marginDeg }) => ({ channel, lead, marginDeg })),
  };
}
