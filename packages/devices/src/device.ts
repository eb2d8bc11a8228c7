/**
 * A nonlinear part as the circuit equations see it. Every voltage it depends on is a control: the voltage from one lead
 * to another. Implementations are pure: no state between calls, results written into the caller's arrays.
 */
export interface Device {
  /** Lead names in the order used by `currents` and `charges`, e.g. collector, base, emitter. */
  readonly leads: readonly string[];
  /** Control k is the voltage of lead `controls[k][0]` minus that of lead `controls[k][1]` (lead indices). */
  readonly controls: readonly (readonly [number, number])[];
  /**
   * Static currents into each lead (A, length leads) and their slopes (S, row-major leads × controls) at the control
   * voltages (V). Finite for controls up to ±1 GV.
   */
  evaluate(controls: Float64Array, currents: Float64Array, slopes: Float64Array): void;
  /** Stored charge at each lead (C) and its slope (F, row-major leads × controls) at the control voltages. */
  store(controls: Float64Array, charges: Float64Array, slopes: Float64Array): void;
  /**
   * Holds a Newton step to what the exponentials bear: shortens `proposed` in place against the last accepted
   * `previous` controls. Returns true where it changed something.
   */
  limit(proposed: Float64Array, previous: Float64Array): boolean;
  /** Control voltages from which a search begins well (a conducting junction, a part in its active region). */
  readonly start: readonly number[];
  /** The noise currents it makes at the solved control voltages. */
  noise(controls: Float64Array): readonly NoiseSource[];
}

/** A noise current between two leads, or (op-amps, JFET, triode) a noise voltage in series with one lead. */
export interface NoiseSource {
  /** What makes it: 'shot of the base', 'channel', … */
  readonly name: string;
  readonly quantity: 'current' | 'voltage';
  /** Lead indices; for a voltage the first is the lead it is in series with and the second is its reference. */
  readonly between: readonly [number, number];
  /** White density, A²/Hz or V²/Hz. */
  readonly density: number;
  /** Hz below which 1/f noise exceeds the white part: density × (1 + corner/f). 0: none. */
  readonly corner: number;
}
