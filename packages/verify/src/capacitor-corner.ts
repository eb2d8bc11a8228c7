import type { Capacitor } from '@curvewright/board';
import { portBetween, unknownOf } from '@curvewright/network';
import type { Stage } from './stage.ts';

/** Where a capacitor's reactance equals the impedance of all the rest of the circuit across it. */
export interface Corner {
  readonly hz: number;
  /** |Z| of the rest at that frequency, Ω. */
  readonly ohms: number;
}

/** Null where there is none between 0.001 Hz and 10 MHz. */
export function cornerOf(stage: Stage, part: Capacitor): Corner | null {
  const port = portBetween(stage.small, unknownOf(stage.network, part.plus), unknownOf(stage.network, part.minus));
  const rest = (hz: number): number | null => {
    const z = port.impedance(hz);
    if (z === null) return null;
    // Take the capacitor itself out of the port: 1/Z − jωC.
    const norm = z[0] ** 2 + z[1] ** 2;
    const susceptance = -z[1] / norm - 2 * Math.PI * hz * part.farads;
    return 1 / Math.hypot(z[0] / norm, susceptance);
  };
  const surplus = (hz: number): number => {
    const ohms = rest(hz);
    return ohms === null ? NaN : Math.log(ohms * 2 * Math.PI * hz * part.farads);
  };
  let [low, high] = [1e-3, 1e7];
  if (!(surplus(low) < 0 && surplus(high) > 0)) return null;
  while (high / low > 1.0001) {
    const middle = Math.sqrt(low * high);
    if (surplus(middle) < 0) low = middle;
    else high = middle;
  }
  const hz = Math.sqrt(low * high);
  return { hz, ohms: rest(hz) ?? NaN };
}
