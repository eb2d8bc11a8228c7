import type { BipolarType } from '@curvewright/board';
import { junctionCurrent, junctionSlope, type Junction } from './junction.ts';
import { datasheetKelvin, thermalVoltage } from './physics.ts';

/**
 * Charge between base and emitter: Cib·vbe plus minority charge τ·If (charge control: Gray & Meyer, Analysis and Design of Analog
 * Integrated Circuits; from memory). With `threshold`, the share τ·gm counts only where it exceeds `threshold`, and only by the excess.
 */
export interface BaseEmitterCharge {
  /** τ, s. */
  readonly transit: number;
  /** F; a capacitance at every voltage. */
  readonly constant: number;
  /** F taken off τ·gm, never below zero; 0: none. */
  readonly threshold: number;
}

/**
 * The forward transit time in s that gives fT at its stated current, τ = 1/(2π fT) − (Cib + Cob)(kT/q)/I at 25 °C; null where no fT with
 * a current is given. Negative where the figures contradict each other.
 */
export function transitTime(type: BipolarType): number | null {
  if (type.fT?.at === undefined) return null;
  const cob = type.Cob ?? 0;
  const cib = type.Cib ?? cob;
  return 1 / (2 * Math.PI * type.fT.value) - ((cib + cob) * thermalVoltage(datasheetKelvin)) / type.fT.at;
}

/** Which of the three forms a type's figures call for: fT at a current, a plain fT at whatever current flows, or no fT. */
export function baseEmitterCharge(type: BipolarType): BaseEmitterCharge {
  const transit = transitTime(type);
  if (transit !== null) return { transit, constant: type.Cib ?? type.Cob ?? 0, threshold: 0 };
  if (type.fT) return { transit: 1 / (2 * Math.PI * type.fT.value), constant: 0, threshold: type.Cob ?? 0 };
  return { transit: 0, constant: type.Cib ?? 0, threshold: 0 };
}

/** Capacitance Cπ in F at the forward voltage `vbe` (V). */
export function baseEmitterCapacitance(charge: BaseEmitterCharge, forward: Junction, vbe: number): number {
  const slope = junctionSlope(forward, vbe, junctionCurrent(forward, vbe));
  return charge.constant + Math.max(charge.transit * slope - charge.threshold, 0);
}

/** Charge in C at the forward voltage `vbe` (V): the integral of the capacitance. */
export function baseEmitterCoulombs(charge: BaseEmitterCharge, forward: Junction, vbe: number): number {
  const linear = charge.constant * vbe;
  if (charge.threshold === 0) return linear + charge.transit * junctionCurrent(forward, vbe);
  const onset = forward.scale * (Math.log((charge.threshold * forward.scale) / charge.transit) - forward.logSaturation);
  if (vbe <= onset) return linear;
  const rise = junctionCurrent(forward, vbe) - junctionCurrent(forward, onset);
  return linear + charge.transit * rise - charge.threshold * (vbe - onset);
}
