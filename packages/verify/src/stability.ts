import type { Limits } from '@curvewright/board';
import type { Level } from './judge.ts';
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

/** Unstable fails; a Q above or a margin below its limit is worth a look. A loop that is nowhere 1 has no margin to judge. */
export function stabilityLevel({ stable, q, margins }: StabilityFigures, limit: Limits['stability']): Level {
  if (!stable) return 'fail';
  const steady =
    (q ?? 0) <= limit.q && margins.every(({ marginDeg }) => marginDeg === null || marginDeg >= limit.margin);
  return steady ? 'good' : 'look';
}
