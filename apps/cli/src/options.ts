import { InvalidArgumentError } from 'commander';
import { kelvin, readQuantity, type Unit } from '@curvewright/quantity';

/** Reads an option that is a quantity: `45 °C`, `10 MΩ`. */
function quantityOption(unit: Unit): (text: string) => number {
  return (text) => {
    const reading = readQuantity(text, unit);
    if (!reading.ok) throw new InvalidArgumentError(reading.message);
    return reading.value;
  };
}

/** Ω of what stands at the input: `shorted` is 0, `1 kΩ` a resistor. */
export function sourceOption(text: string): number {
  const ohms = text.trim() === 'shorted' ? 0 : quantityOption('Ω')(text);
  if (!(ohms >= 0 && ohms < Infinity)) throw new InvalidArgumentError('write shorted, or a resistance: 1 kΩ');
  return ohms;
}

/** A meter as a command writes it: Ω, or Ω for each volt of its range. */
export type MeterOption = { readonly ohms: number } | { readonly ohmsPerVolt: number };

export function meterOption(text: string): MeterOption {
  return text.includes('/') ? { ohmsPerVolt: aboveZero('Ω/V')(text) } : { ohms: aboveZero('Ω')(text) };
}

/** Reads an option that is a quantity above zero. */
export function aboveZero(unit: Unit): (text: string) => number {
  return (text) => {
    const value = quantityOption(unit)(text);
    if (!(value > 0)) throw new InvalidArgumentError('write a value above 0');
    return value;
  };
}

/** dB above 0. */
export const decibelsAboveZero: (text: string) => number = aboveZero('dB');

/** Reads an option that is a plain number above another. */
export function numberAbove(least: number): (text: string) => number {
  return (text) => {
    const value = /^\s*\d+(\.\d+)?\s*$/.test(text) ? Number(text) : NaN;
    if (!(value > least)) throw new InvalidArgumentError(`write a plain number above ${least}`);
    return value;
  };
}

export function ambientOption(text: string): number {
  const celsius = quantityOption('°C')(text);
  if (celsius < -55 || celsius > 125) throw new InvalidArgumentError('write a temperature from -55 °C to 125 °C');
  return kelvin(celsius);
}

/** Gathers one more rail with its volts, `vcc=20 V`. */
export function railOption(text: string, others: ReadonlyMap<string, number> | undefined): ReadonlyMap<string, number> {
  const [, name = '', volts = ''] = /^\s*([^=\s]+)\s*=(.*)$/s.exec(text) ?? [];
  if (name === '') throw new InvalidArgumentError('write a rail and its volts: vcc=20 V');
  return new Map([...(others ?? []), [name, quantityOption('V')(volts)]]);
}

/** s in which supplies come up. */
export function rampOption(text: string): number {
  const seconds = quantityOption('s')(text);
  if (!(seconds >= 1e-6 && seconds <= 60)) throw new InvalidArgumentError('write a time from 1 µs to 60 s');
  return seconds;
}

/** Frequencies with commas between them: `20,1000` or `20 Hz,1 kHz`. */
export function frequenciesOption(text: string): readonly number[] {
  return text.split(',').map((each) => {
    const bare = /^\s*\d+(\.\d+)?\s*$/.test(each);
    const hz = bare ? Number(each) : quantityOption('Hz')(each.trim());
    if (!(hz > 0 && hz <= 1e9)) throw new InvalidArgumentError(`${each.trim()} is no frequency; write 20,1000`);
    return hz;
  });
}

/** Reads an option that is a count. */
export function wholeNumber(least: number, most: number): (text: string) => number {
  return (text) => {
    const count = /^\d+$/.test(text.trim()) ? Number(text) : NaN;
    if (!(count >= least && count <= most))
      throw new InvalidArgumentError(`write a whole number from ${least} to ${most}`);
    return count;
  };
}

/** How near a trimmed curve is to come: `0.1 dB` of the curve, `1 %` of its time constants. */
export function withinOption(text: string): { readonly db: number } | { readonly fraction: number } {
  return text.includes('%') ? { fraction: aboveZero('%')(text) } : { db: aboveZero('dB')(text) };
}
