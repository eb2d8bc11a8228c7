/** Orders whose distortion is measured. */
export const harmonicOrders: readonly number[] = [2, 3, 4, 5];

/** One harmonic at the output. */
export interface Harmonic {
  readonly order: number;
  /** Its level over the fundamental's, the power of the noise taken off. */
  readonly ratio: number;
  /** The noise in it, likewise over the fundamental. */
  readonly floor: number;
}

/** Total distortion of what harmonics there are. */
export interface Distortion {
  /** Of the fundamental; null where it does not stand out of the noise. */
  readonly percent: number | null;
  /** What the noise alone would show as distortion. */
  readonly floorPercent: number;
  readonly orders: readonly { readonly order: number; readonly percent: number | null }[];
}

/** Power of a harmonic over that of the noise in it from which on it counts: 6 dB, twice its spread. */
const standsOut = 4;

/** Null where no order is measured. */
export function distortionOf(harmonics: readonly (Harmonic | null)[]): Distortion | null {
  const there = harmonics.flatMap((each) => each ?? []);
  if (there.length === 0) return null;
  const audible = there.filter(({ ratio, floor }) => ratio ** 2 > standsOut * floor ** 2);
  const percentOf = (ratios: readonly number[]): number => 100 * Math.hypot(...ratios);
  return {
    percent: audible.length === 0 ? null : percentOf(audible.map(({ ratio }) => ratio)),
    floorPercent: percentOf(there.map(({ floor }) => floor)),
    orders: there.map((each) => ({ order: each.order, percent: audible.includes(each) ? 100 * each.ratio : null })),
  };
}
