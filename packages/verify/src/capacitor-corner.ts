import type { Capacitor } from '@curvewright/board';
import { portBetween, unknownOf } from '@curvewright/network';
import type { Stage } from './stage.ts';

/** Where a capacitor's reactance equals the impedance of the circuit around it: its own ESR and all that the two lead to. */
export interface Corner {
  readonly hz: number;
  /** |Z| around it at that frequency, Ω. */
  readonly ohms: number;
}

/** Null where there is none between 0.001 Hz and 10 MHz. */
export function cornerOf(stage: Stage, part: Capacitor): Corner | null {
  const port = portBetween(stage.small, unknownOf(stage.network, part.plus), unknownOf(stage.network, part.minus));
  const { farads, loss = 0, esr = 0 } = part;
  const around = (hz: number): number | null => {
    const z = port.impedance(hz);
    if (z === null) return null;
    // Take the capacitor's own branch out of the port, then put its ESR in series with what is left.
    const ofBranch = inverse(sum(inverse([2 * Math.PI * hz * farads * loss, 2 * Math.PI * hz * farads]), [esr, 0]));
    const [re, im] = inverse(sum(inverse(z), [-ofBranch[0], -ofBranch[1]]));
    return Math.hypot(re + esr, im);
  };
  const surplus = (hz: number): number => {
    const ohms = around(hz);
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
  return { hz, ohms: around(hz) ?? NaN };
}

type Pair = readonly [number, number];

function sum([a, b]: Pair, [c, d]: Pair): Pair {
  return [a + c, b + d];
}

function inverse([re, im]: Pair): Pair {
  const norm = re ** 2 + im ** 2;
  return [re / norm, -im / norm];
}
