import { InvalidArgumentError } from 'commander';
import { kelvin, readQuantity, type Unit } from '@curvewright/quantity';

/** Reads an option that is a quantity: `45 °C`, `10 MΩ`. */
export function quantityOption(unit: Unit): (text: string) => number {
  return (text) => {
    const reading = readQuantity(text, unit);
    if (!reading.ok) throw new InvalidArgumentError(reading.message);
    return reading.value;
  };
}

export function ambientOption(text: string): number {
  const celsius = quantityOption('°C')(text);
  if (celsius < -55 || celsius > 125) throw new InvalidArgumentError('write a temperature from -55 °C to 125 °C');
  return kelvin(celsius);
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
