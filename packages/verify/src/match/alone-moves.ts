import { withFigures, type MeasuredPiece } from '@curvewright/board';
import type { Steps } from '../steps.ts';
import type { ChannelDifference } from './channel-difference.ts';
import type { MatchPlace } from './match-place.ts';

/** What each piece does alone, in the place of one channel. */
export interface AloneMoves {
  readonly place: number;
  readonly side: 0 | 1;
  /** By piece; null without a bias. */
  readonly by: readonly (Float64Array | null)[];
}

/** Every piece in every place of every channel by itself, all else as it stands; `base` is the difference then. */
export function* movesAlone(
  difference: ChannelDifference,
  base: Float64Array,
  places: readonly MatchPlace[],
  pieces: readonly MeasuredPiece[],
): Steps<readonly AloneMoves[]> {
  const moves: AloneMoves[] = [];
  for (const [place, { parts }] of places.entries()) {
    for (const side of [0, 1] as const) {
      const by: (Float64Array | null)[] = [];
      for (const { figures } of pieces) {
        const there = difference.of([withFigures(parts[side], figures)]);
        by.push(there?.map((value, k) => value - base[k]!) ?? null);
        if (by.length % 20 === 0) yield (moves.length + by.length / pieces.length) / (2 * places.length);
      }
      moves.push({ place, side, by });
    }
  }
  return moves;
}
