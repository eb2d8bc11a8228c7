import { Complex } from 'complex.js';

/** The playback curve of IEC 60098, alone or with the 1976 amendment's bass cut (withdrawn in 2009). */
export type Target = 'riaa' | 'riaa-1976';

/** Time constants in seconds: H(s) = (1 + s·T2) / ((1 + s·T1)(1 + s·T3)), the amendment's factor s·T4 / (1 + s·T4). */
export const riaaTimes: { readonly T1: number; readonly T2: number; readonly T3: number; readonly T4: number } = {
  T1: 3180e-6,
  T2: 318e-6,
  T3: 75e-6,
  T4: 7950e-6,
};

const reference = 1000;
const referenceGain: Readonly<Record<Target, number>> = {
  riaa: gainSquared('riaa', reference),
  'riaa-1976': gainSquared('riaa-1976', reference),
};

/** The gain the target asks for, in dB re 1 kHz, at a frequency in Hz. −Infinity at 0 Hz with the amendment. */
export function targetDb(target: Target, hz: number): number {
  return 10 * Math.log10(gainSquared(target, hz) / referenceGain[target]);
}

/** The target's complex gain at a frequency in Hz, scaled to a magnitude of 1 at 1 kHz; its phase is left as it is. */
export function playbackTransfer(target: Target, hz: number): Complex {
  const { T1, T2, T3, T4 } = riaaTimes;
  const one = new Complex(1);
  const s = new Complex(0, 2 * Math.PI * hz);
  const riaa = one.add(s.mul(T2)).div(one.add(s.mul(T1)).mul(one.add(s.mul(T3))));
  const gain = target === 'riaa' ? riaa : riaa.mul(s.mul(T4)).div(one.add(s.mul(T4)));
  return gain.div(Math.sqrt(referenceGain[target]));
}

/** |H|² at a frequency in Hz, 1 at 0 Hz for `riaa`. */
function gainSquared(target: Target, hz: number): number {
  const { T1, T2, T3, T4 } = riaaTimes;
  const w2 = (2 * Math.PI * hz) ** 2;
  const riaa = (1 + w2 * T2 ** 2) / ((1 + w2 * T1 ** 2) * (1 + w2 * T3 ** 2));
  return target === 'riaa' ? riaa : (riaa * (w2 * T4 ** 2)) / (1 + w2 * T4 ** 2);
}
