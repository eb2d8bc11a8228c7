import { printQuantity, printSigned, type Unit } from '@curvewright/quantity';

/** What stands where a figure has no number. */
export const none: string = '–';

/** A number with so many decimals and U+2212 as minus; a zero left by rounding has no sign. Wide numbers turn to powers of ten. */
export function decimals(value: number, count: number): string {
  if (Number.isNaN(value)) return none;
  const magnitude = Math.abs(value);
  const text = magnitude === Infinity ? '∞' : magnitude >= 1e5 ? magnitude.toExponential(0) : magnitude.toFixed(count);
  return (value < 0 && /[1-9∞]/.test(text) ? '−' : '') + text.replace('-', '−');
}

/** As `decimals`, with a plus for what is above zero: for changes and deviations. */
export function signed(value: number, count: number): string {
  const text = decimals(value, count);
  return value > 0 && /[1-9∞]/.test(text) ? `+${text}` : text;
}

/** Hundredths of a dB: the limits speak of tenths, and a margin has to show on which side of one a figure is. */
export function db(value: number): string {
  return signed(value, 2);
}

/** A change as the bench writes it, `+12 mV`; two digits. Zero has no sign. */
export function change(value: number, unit: Unit): string {
  if (Number.isNaN(value)) return none;
  return value === 0 ? `0 ${unit}` : printSigned(value, unit, 2);
}

export function quantity(value: number, unit: Unit, digits: number = 3): string {
  return Number.isNaN(value) ? none : printQuantity(value, unit, digits);
}

/** A frequency in two digits, for columns and sentences. */
export function frequency(hz: number): string {
  return quantity(hz, 'Hz', 2);
}

/** Volts as on a voltage chart: always in V, with three digits, and none below a millivolt. */
export function volts(value: number): string {
  const magnitude = Math.abs(value);
  return decimals(value, magnitude >= 99.95 ? 0 : magnitude >= 9.995 ? 1 : magnitude >= 0.9995 ? 2 : 3);
}

/** 1, 2 or 5 times a power of ten: the frequencies that a table shows of a denser list. */
export function isMain(hz: number): boolean {
  return /^[125]e/.test(hz.toExponential());
}
