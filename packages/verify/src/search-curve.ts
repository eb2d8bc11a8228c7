import { logFrequencies } from '@curvewright/curves';

/** A smooth curve over frequency: Hz in, dB out. */
export type Curve = (hz: number) => number;

export interface Extreme {
  readonly hz: number;
  readonly db: number;
}

/** Points per decade of the searching grid: closer than the width of a resonance of Q 8. */
const density = 24;

/** Of a frequency: how near the place of a highest point is found. */
const fine = 1e-4;
/** dB. Differences below it are rounding: the first of points so close is the highest. */
const alike = 1e-9;

/** The highest point of a curve between two frequencies, ends included: grid, then golden section to 1e-4 of the frequency. */
export function highestPoint(curve: Curve, fromHz: number, toHz: number): Extreme {
  const grid = logFrequencies(fromHz, toHz, density);
  let best = 0;
  grid.forEach((hz, i) => {
    if (curve(hz) > curve(grid[best]!) + alike) best = i;
  });
  const [below, at, above] = [grid[Math.max(best - 1, 0)]!, grid[best]!, grid[Math.min(best + 1, grid.length - 1)]!];
  // At an end of the band: the highest point, unless the curve rises from there into the band.
  const inward = below === at ? at * (1 + fine) : at / (1 + fine);
  const isEnd = below === at || above === at;
  if (isEnd && (below === above || curve(inward) <= curve(at) + alike)) return { hz: at, db: curve(at) };
  return goldenSection(curve, below, above);
}

/** Golden section over log frequency (Kiefer, Proc. AMS 4, 1953). */
function goldenSection(curve: Curve, fromHz: number, toHz: number): Extreme {
  const share = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [Math.log(fromHz), Math.log(toHz)];
  let [left, right] = [high - share * (high - low), low + share * (high - low)];
  let [atLeft, atRight] = [curve(Math.exp(left)), curve(Math.exp(right))];
  while (high - low > fine) {
    if (atLeft > atRight) {
      [high, right, atRight] = [right, left, atLeft];
      left = high - share * (high - low);
      atLeft = curve(Math.exp(left));
    } else {
      [low, left, atLeft] = [left, right, atRight];
      right = low + share * (high - low);
      atRight = curve(Math.exp(right));
    }
  }
  const hz = Math.exp((low + high) / 2);
  return { hz, db: curve(hz) };
}

/** The point furthest from 0 dB, with its sign. */
export function furthestPoint(curve: Curve, fromHz: number, toHz: number): Extreme {
  const { hz } = highestPoint((f) => Math.abs(curve(f)), fromHz, toHz);
  return { hz, db: curve(hz) };
}

/**
 * Walking from `fromHz` to `toHz` (either way), the first frequency at which the curve falls through `level`; null where
 * it does not. Bisection to 1e-6 of the frequency.
 */
export function firstFallThrough(curve: Curve, level: number, fromHz: number, toHz: number): number | null {
  const rising = toHz > fromHz;
  const grid = logFrequencies(Math.min(fromHz, toHz), Math.max(fromHz, toHz), density);
  const walk = rising ? grid : grid.toReversed();
  for (let i = 1; i < walk.length; i++) {
    if (curve(walk[i - 1]!) < level || curve(walk[i]!) >= level) continue;
    let [inside, outside] = [walk[i - 1]!, walk[i]!];
    while (Math.abs(outside / inside - 1) > 1e-6) {
      const middle = Math.sqrt(inside * outside);
      if (curve(middle) >= level) inside = middle;
      else outside = middle;
    }
    return inside;
  }
  return null;
}
