import type { BipolarType, DiodeType, JfetType } from '@curvewright/board';
import type { Draws } from './random.ts';

/** Small-signal figures over the spread of common types (from memory), each of the optional ones silent in some. */
export function someBipolar(draws: Draws, kind: 'npn' | 'pnp'): BipolarType {
  const gain = draws.log(60, 800);
  const cob = draws.even(1e-12, 8e-12);
  const fT = { value: draws.log(80e6, 400e6), at: draws.log(5e-3, 20e-3) };
  return {
    kind,
    hFE: draws.chance(0.3)
      ? [
          { value: gain * draws.even(0.6, 0.95), at: 1e-5 },
          { value: gain, at: 1e-3 },
          { value: gain * draws.even(0.6, 0.95), at: 5e-2 },
        ]
      : [{ value: gain, at: 1e-3 }],
    VBE: { value: draws.even(0.56, 0.7), at: 1e-3 },
    ...(draws.chance(0.7) ? { earlyVoltage: draws.log(40, 300) } : {}),
    ...(draws.chance(0.7) ? { Cob: cob, Cib: cob * draws.even(1, 4), fT } : {}),
    ...(draws.chance(0.5) ? { rbb: draws.log(10, 500) } : {}),
    ...(draws.chance(0.5) ? { VEBO: draws.even(4, 8) } : {}),
  };
}

export function someJfet(draws: Draws, kind: 'jfet-n' | 'jfet-p'): JfetType {
  return {
    kind,
    IDSS: draws.log(1e-3, 15e-3),
    pinchOff: draws.even(0.4, 4),
    ...(draws.chance(0.6) ? { yos: draws.log(2e-6, 60e-6) } : {}),
    ...(draws.chance(0.6) ? { Crss: 3e-12, Ciss: 12e-12 } : {}),
  };
}

export function someDiode(draws: Draws): DiodeType {
  const value = draws.even(0.56, 0.7);
  return { kind: 'diode', VF: [{ value, at: 1e-3 }, ...(draws.chance(0.5) ? [{ value: value + 0.1, at: 1e-2 }] : [])] };
}
