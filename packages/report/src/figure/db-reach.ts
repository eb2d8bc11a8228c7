import type { Band, Series } from './figure.ts';
import { reachFrom } from './read-line.ts';

/** Further off than this, dB, a line leaves the figure, which would else show nothing but that. */
const furthestShown = 12;

/** Below this, Hz, every stage falls away: no reason to shrink what stands above. */
const lowestCounting = 20;

/** Lowest and highest dB of a figure about 0: at least `least` either way, losses from 20 Hz up and peaks anywhere. */
export function dbReach(
  series: readonly Series[],
  bands: readonly Band[],
  least: number,
): readonly [low: number, high: number] {
  const lines = [
    ...series,
    ...bands.flatMap(({ x, low, high }) => [
      { x, y: low },
      { x, y: high },
    ]),
  ];
  const lows = lines.map(({ x, y }) => reachFrom(x, y, lowestCounting)?.[0] ?? 0);
  const highs = lines.map(({ x, y }) => reachFrom(x, y, 0)?.[1] ?? 0);
  return [
    Math.max(Math.min(-least, ...lows), -Math.max(furthestShown, least)),
    Math.min(Math.max(least, ...highs), Math.max(furthestShown, least)),
  ];
}
