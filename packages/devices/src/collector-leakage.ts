import { datasheetKelvin, elementaryCharge, thermalVoltage } from './physics.ts';

/** K in which the leakage of a junction doubles: rule of the data books for small-signal transistors, from memory. */
const doubling = 10;

/**
 * The collector-base leakage of an aged transistor: I = ICBO·tanh(v/(2kT/q)), v the reverse voltage of the junction. It has reached 96 % of
 * ICBO at 0.1 V and stays there, as ICBO is read at some volts of reverse bias; forward, where the junction itself soon takes over, it
 * has the same size. It never makes power, and doubles every 10 K above 25 °C.
 */
export interface CollectorLeakage {
  /** A it saturates at. */
  readonly amps: number;
  /** V, 2kT/q. */
  readonly scale: number;
}

/** From ICBO in A at 25 °C. */
export function collectorLeakage(ICBO: number, kelvin: number): CollectorLeakage {
  return { amps: ICBO * 2 ** ((kelvin - datasheetKelvin) / doubling), scale: 2 * thermalVoltage(kelvin) };
}

/** A that flow from collector to base at the reverse voltage `volts`. */
export function leakageCurrent({ amps, scale }: CollectorLeakage, volts: number): number {
  return amps * Math.tanh(volts / scale);
}

/** Slope of that current, S. */
export function leakageSlope({ amps, scale }: CollectorLeakage, volts: number): number {
  return (amps / scale) * (1 - Math.tanh(volts / scale) ** 2);
}

/**
 * Its white noise, A²/Hz: 2q·ICBO at every voltage, the shot noise of the saturated current, which at 0 V is the Johnson noise 4kT of its
 * slope ICBO/(2kT/q).
 */
export function leakageNoise({ amps }: CollectorLeakage): number {
  return 2 * elementaryCharge * amps;
}
