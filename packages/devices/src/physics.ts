/** Boltzmann's constant, J/K (SI 2019, exact). */
export const boltzmann = 1.380649e-23;

/** The elementary charge, C (SI 2019, exact). */
export const elementaryCharge = 1.602176634e-19;

/** K; datasheet figures hold at 25 °C. */
export const datasheetKelvin = 298.15;

/** V; the band gap of silicon near room temperature (from memory). */
const bandGap = 1.12;

/** kT/q in volts. */
export function thermalVoltage(kelvin: number): number {
  return (boltzmann * kelvin) / elementaryCharge;
}

/**
 * ln Is(T) − ln Is(25 °C) of one silicon junction: Is grows as T³·exp(−Eg/kT) (Sze, Physics of Semiconductor Devices; from memory).
 */
export function logSaturationRise(kelvin: number): number {
  const inverseStep = 1 / datasheetKelvin - 1 / kelvin;
  return 3 * Math.log(kelvin / datasheetKelvin) + (bandGap * elementaryCharge * inverseStep) / boltzmann;
}

/** White density of shot noise, A²/Hz: 2qI whatever the current's direction (Schottky). */
export function shotDensity(current: number): number {
  return 2 * elementaryCharge * Math.abs(current);
}
