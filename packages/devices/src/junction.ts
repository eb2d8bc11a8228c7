/** A; beyond it the exponential continues as a straight line, so that a wild trial voltage still gives a finite current. */
const ceiling = 1e3;

/** A current I(v) = Is(e^{v/s} − 1), Shockley's law. Is is kept as a logarithm because a breakdown's is far below the smallest number. */
export interface Junction {
  /** ln of Is in A. */
  readonly logSaturation: number;
  /** Is, A. */
  readonly saturation: number;
  /** s, V: n·kT/q. */
  readonly scale: number;
  /** V where the current reaches the ceiling. */
  readonly knee: number;
  /** V where the curve bends most, s·ln(s/(√2·Is)): above it a Newton step overshoots. */
  readonly critical: number;
}

/** A junction from ln Is (A) and s (V). */
export function junction(logSaturation: number, scale: number): Junction {
  return {
    logSaturation,
    saturation: Math.exp(logSaturation),
    scale,
    knee: scale * (Math.log(ceiling) - logSaturation),
    critical: scale * (Math.log(scale / Math.SQRT2) - logSaturation),
  };
}

/** ln Is of the junction with slope voltage `scale` that carries `amps` at `volts`. */
export function logSaturationThrough(volts: number, amps: number, scale: number): number {
  return Math.log(amps) - logRise(volts / scale);
}

/** ln(eˣ − 1) for x > 0, where eˣ itself may overflow. */
export function logRise(x: number): number {
  return x + Math.log(-Math.expm1(-x));
}

/** Current in A at `volts`; exactly zero at 0 V. */
export function junctionCurrent(j: Junction, volts: number): number {
  if (volts > j.knee) return ceiling * (1 + (volts - j.knee) / j.scale) - j.saturation;
  return Math.exp(j.logSaturation + volts / j.scale) - j.saturation;
}

/** Slope dI/dv in S at `volts`, where the junction carries `current`. */
export function junctionSlope(j: Junction, volts: number, current: number): number {
  return (volts > j.knee ? ceiling : current + j.saturation) / j.scale;
}

/**
 * The forward voltage a Newton step may take: a step up the exponential by more than 2s becomes logarithmic, near the voltage at which the
 * curve really carries the current that the tangent promised (damping of exponentials: Chua & Lin, Computer-Aided Analysis of Electronic
 * Circuits, 1975; from memory). Smaller steps, and every step down, pass unchanged, so that a solution is never held off.
 */
export function holdStep(j: Junction, proposed: number, previous: number): number {
  if (proposed <= j.critical || proposed - previous <= 2 * j.scale || previous >= j.knee) return proposed;
  const from = Math.max(previous, j.critical);
  return from + j.scale * Math.log1p((proposed - from) / j.scale);
}
