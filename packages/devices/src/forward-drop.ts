import type { FigureAt } from '@curvewright/board';
import { junction, logRise, logSaturationThrough, type Junction } from './junction.ts';
import { datasheetKelvin, logSaturationRise, thermalVoltage } from './physics.ts';
import { bisect } from './root.ts';

/** V; a silicon junction at a few mA. A larger drop is that of several in one case; from memory. */
const oneJunction = 0.65;

/**
 * The forward junction of a diode through one VF point with its emission coefficient, or through two points, which give both Is and n.
 * The points hold at 25 °C. With m junctions in series the current follows v/(n·kT/q) with n/m for each, so ln Is moves by m/n of one
 * ideal junction's: a 0.65 V diode falls by 2 mV/K, a stack in proportion.
 */
export function forwardDrop(points: readonly FigureAt[], ideality: number, kelvin: number): Junction {
  const [first, second] = points.toSorted((a, b) => a.at - b.at);
  if (!first) throw new RangeError('a forward drop needs at least one point');
  const warm = thermalVoltage(datasheetKelvin);
  const n = second ? emission(first, second) / warm : ideality;
  const stack = Math.max(1, Math.round(first.value / oneJunction));
  const logSaturation = logSaturationThrough(first.value, first.at, n * warm);
  return junction(logSaturation + (stack / n) * logSaturationRise(kelvin), n * thermalVoltage(kelvin));
}

/** The slope voltage n·kT/q of the exponential through two points of ascending current. */
function emission(first: FigureAt, second: FigureAt): number {
  const wanted = Math.log(second.at / first.at);
  const excess = (scale: number): number => wanted + logRise(first.value / scale) - logRise(second.value / scale);
  // Leaving out the −1 of Shockley's law gives a slope voltage that is never too large.
  const least = (second.value - first.value) / wanted;
  let most = 2 * least;
  while (excess(most) < 0) most *= 2;
  return bisect(excess, least, most);
}
