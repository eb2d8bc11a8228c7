/** Poles of A-weighting in Hz: two at the first and last, one at the middle ones (IEC 61672-1; from memory, re-derived from its table). */
const poles = [20.598997, 107.65265, 737.86223, 12194.217] as const;

const referencePower = unscaledPower(1000);

/** The power |A|² of A-weighting at a frequency in Hz, 1 at 1 kHz. */
export function aWeightingPower(hz: number): number {
  return unscaledPower(hz) / referencePower;
}

/** A-weighting in dB re 1 kHz at a frequency in Hz. */
export function aWeightingDb(hz: number): number {
  return 10 * Math.log10(aWeightingPower(hz));
}

function unscaledPower(hz: number): number {
  const [f1, f2, f3, f4] = poles;
  const f = hz ** 2;
  return f ** 4 / ((f + f1 ** 2) ** 2 * (f + f2 ** 2) * (f + f3 ** 2) * (f + f4 ** 2) ** 2);
}
